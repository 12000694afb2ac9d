package plain

import (
	"slices"
	"strings"
	"testing"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// TestWrongReadings of the gauge, before a pass: each is refused with a reason
// and asked again, and none is on the card.
func TestWrongReadings(t *testing.T) {
	for _, c := range []struct{ typed, said string }{
		{"39", "that is ten times the setting or more: was psi read for bar? Read the gauge again"}, // 2.7 bar on a dial of psi
		{"0.2", "that is a tenth of the setting or less: was bar read for psi? Read the gauge again"},
		{"3.0", "3 bar is above the band 2.62 to 2.81 bar: turn well below, then come up again"},
		{"2.4", "2.4 bar is below the band 2.62 to 2.81 bar: turn it up while the tool runs as the chart demands"},
		{"6.95", "is above the rated pressure 6.9 bar: turn it down"},
		{"2.7 psi", `"2.7 psi" is no reading, type it such as 3.4 bar`},
		{"-2.7", `"-2.7" is no reading, type it such as 3.4 bar`},
		{"1e308", `"1e308" is no reading, type it such as 3.4 bar`},
		{"", `"" is no reading, type it such as 3.4 bar`},
		{"0", "the running reading is needed: the chart was made running"},
	} {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, []string{c.typed})...)
		if strings.Contains(c.said, "reading, type") {
			w.says(t, "while it runs, bar: "+c.typed+"\nNOT TAKEN: "+c.said+"\nReading while it runs, bar: ")
		} else {
			w = walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, []string{c.typed, ""})...)
			w.says(t, "NOT TAKEN: ", c.said+"\nSTEP: SET")
		}
		if got, ok := w.last(t).(sequence.GapsMeasured); !ok {
			t.Errorf("%q: last on the card is %#v", c.typed, got)
		}
	}
}

func TestReadingsWithComma(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, []string{"2,7", "2,8"})...)
	if got := w.last(t); got != (sequence.PressureSet{Running: unit.InBar.Of(2.7), Static: unit.InBar.Of(2.8)}) {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestStaticReadingTooLow is asked about once and kept only on y.
func TestStaticReadingTooLow(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(toPass1, []string{"2.7", "2.6", "n", "2.7", "2.6", "y"})...)
	w.says(t, "LOOK AGAIN: the reading at rest is not above the running one", "NOT TAKEN: the reading at rest", "LOOK AGAIN: ", "RECORDED: set")
	if got, ok := w.last(t).(sequence.PressureSet); !ok || !got.Sure {
		t.Errorf("last on the card: %#v", got)
	}
}

// TestStaticChart: a chart made at rest asks for the reading at rest only.
func TestStaticChart(t *testing.T) {
	o := drain(t)
	o.Plan.Tools = slices.Clone(o.Plan.Tools)
	o.Plan.Tools[0].Reading = joint.Static
	w := walk(t, t.TempDir(), o, slices.Concat(toPass1, []string{"2.7"}, bolts, []string{"2.7"})...)
	w.says(t, "Turn UP to 2.7 bar with the tool still, trigger off", "chart made at rest", "Reading at rest, bar: 2.7", "Read the gauge again tool still", "Reading at rest, bar (u takes back bolt 4): 2.7", "GAPS   after pass")
	if strings.Contains(w.text, "Reading while it runs") {
		t.Errorf("the running reading is asked for:\n%s", w.text)
	}
}

// TestEndReadings: low repeats the pass, high waits for a named person.
func TestEndReadings(t *testing.T) {
	low := walk(t, t.TempDir(), drain(t), slices.Concat(toEnd1, []string{"2.5", "y"}, set1)...)
	low.says(t, "READ AGAIN", "SET   PASS 1 of 2   50 %   again", "BOLT 1, then 3, then 2")
	high := walk(t, t.TempDir(), drain(t), slices.Concat(toEnd1, []string{"3.0", "y", "x", "r", "Eva", "engineer", "seen"})...)
	high.says(t, "RELEASE   PASS 1 of 2   50 %", "CAUTION: "+sequence.ReleaseHint, "HELD: The gauge read 3 bar at the end, the band is 2.62 to 2.81 bar.",
		"HELD: "+sequence.StallsHigh, "NOT TAKEN: r release by a named person, h hand over, n note", "RECORDED: released", "GAPS   after pass at 50 %")
}

// TestGaps that are not even are measured again or accepted by a named person.
func TestGaps(t *testing.T) {
	w := walk(t, t.TempDir(), drain(t), slices.Concat(gate, []string{"done", "2.1", "1.0", "x", "m", "2.0", "1.1", "n", "wide at the top", "a", "Ann", "fitter", "mine", "a", "Eva", "engineer", "seen"})...)
	w.says(t, "NOT EVEN: Spread 1.1 mm: widest 2.1 mm beside bolt 1, narrowest 1 mm beside bolt 3.", "NOT EVEN: The limit is 0.8 mm.",
		"NOT TAKEN: m measure again, a accept by a named person, h hand over, n note", "NOT EVEN: Spread 0.9 mm", "RECORDED: note", "NOT TAKEN: ", "RECORDED: gaps_accepted", "SET   PASS 1 of 2")
}

func TestWrongGaps(t *testing.T) {
	for _, c := range []struct {
		typed []string
		said  string
	}{
		{[]string{"1.2", "1.7"}, `"1.7" is no bolt number`},
		{[]string{"1.2", "top"}, `"top" is no bolt number`},
		{[]string{"1.2", "9", "1.0", "3"}, "there is no bolt 9, the bolts are 1 to 4"},
		{[]string{"1.2", "1", "1.0", "1"}, "bolt 1 was given twice"},
		{[]string{"1.0", "1", "1.2", "3"}, "the widest gap is smaller than the narrowest: read them again"},
		{[]string{"900", "1", "1.0", "3"}, "a gap of 900 mm beside bolt 1 is not believable: read it again"},
	} {
		w := walk(t, t.TempDir(), drain(t), slices.Concat(toEnd1, []string{"2.7"}, c.typed)...)
		w.says(t, "NOT TAKEN: "+c.said+"\nSTEP: GAPS   after pass at 50 %")
		if got, ok := w.last(t).(sequence.PressureSet); !ok {
			t.Errorf("%q: last on the card is %#v", c.typed, got)
		}
	}
}

// TestGapsInInches: a walk in inches reads them as such.
func TestGapsInInches(t *testing.T) {
	o := drain(t)
	o.Plan.System = unit.US
	w := walk(t, t.TempDir(), o, slices.Concat(gate, []string{"done", "0.04", "0.03"})...)
	w.says(t, "at most 16.6 lbf·ft", "GAPS: spread at most 0.031 in", "Gap beside bolt 3, in: 0.03", "Turn UP to 2.7 bar")
	got, ok := w.last(t).(sequence.GapsMeasured)
	if !ok || got.Readings[0].Gap != 0.04*unit.Inch {
		t.Errorf("last on the card: %#v", got)
	}
}
