package draw

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestBarsOfEight(t *testing.T) {
	var bars []Bar
	for b := range 8 {
		bars = append(bars, Bar{Bolt: b + 1, Before: 0.4, Now: 0.4, Text: "50 %"})
	}
	bars[0] = Bar{Bolt: 1, Before: 0, Now: 0.8, Text: "100 %", Mark: Done}
	bars[1] = Bar{Bolt: 2, Before: 0.6, Now: 0.3, Text: "38 %"}
	th, _ := NewTheme("mono", true, false)
	got := strings.Join(Ring{Bolts: 8, Datum: "top"}.Bars(79, 12, bars, 0.8, th), "\n")
	if !strings.Contains(got, "1# ++") || strings.Count(got, "2 #######------ ") != 1 || !strings.Contains(got, "| 50 %") || !strings.Contains(got, "50 % |  ") {
		t.Errorf("\n%s", got)
	}
}

// TestBarsStayInside: no line wider than asked, no more lines, every bolt that there
// is room for once.
func TestBarsStayInside(t *testing.T) {
	th, _ := NewTheme("dark", false, true)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "bolts")
		w, h := rapid.IntRange(1, 200).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		r := Ring{Bolts: n, Datum: "vent", Bolt1OnDatum: rapid.Bool().Draw(t, "on datum")}
		var bars []Bar
		for b := range n {
			v := rapid.Float64Range(-0.2, 1.4).Draw(t, fmt.Sprint("b", b))
			bars = append(bars, Bar{Bolt: b + 1, Before: v, Now: 1 - v, Text: "100 %", Mark: Done})
		}
		lines := r.Bars(w, h, bars, 0.8, th)
		if len(lines) > h {
			t.Fatalf("%d lines of %d", len(lines), h)
		}
		for _, l := range lines {
			if width(l) > w {
				t.Fatalf("%d of %d: %q", width(l), w, l)
			}
		}
	})
}
