package tui

import (
	"fmt"

	"evenload/sequence"
	"evenload/tui/draw"
	"evenload/tui/walk"
)

// leavingWord says what becomes of a walk that is left.
const leavingWord = "Leaving is safe at any time: the card goes on at the same bolt."

// elsewhereHelp says how what shows at any bolt is told where none is at hand.
func elsewhereHelp(s sequence.Step) string {
	if !sequence.Shows(s) {
		return ""
	}
	return " There " + sequence.ElsewhereKey + " tells of a broken, seized or unfit stud, the gasket or the faces, at any bolt."
}

// helpFrame explains the keys of the screen below it, and what becomes of what is left.
func helpFrame(v *walk.View, below draw.Frame, leaving string) draw.Frame {
	f := draw.Frame{Left: below.Left, Right: "HELP", Caution: sequence.SiteFirst, Keys: []draw.Key{{Key: "any key", Does: "back"}}}
	f.Body = []string{"", "  Keys on this screen:", ""}
	for _, k := range below.Keys {
		f.Body = append(f.Body, fmt.Sprintf("    %-12s %s", k.Key, k.Does))
	}
	f.Body = append(f.Body, "")
	for _, text := range append(sequence.Help(v.Step),
		"A bolt is done only when the next one is shown: then it is on the disk.",
		"A key pressed twice or held counts once. u takes back the last bolt.",
		"Pressure, heat, a leak: p, in a text field ctrl+p, stops the work."+elsewhereHelp(v.Step),
		leaving,
		sequence.NotLoadWord,
	) {
		for _, line := range draw.Wrap(text, max(20, v.Width-5)) {
			f.Body = append(f.Body, "  "+line)
		}
	}
	return f
}
