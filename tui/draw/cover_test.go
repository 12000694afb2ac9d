package draw

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"evenload/joint"
	"evenload/joint/unit"
)

// layout makes one of x and y in millimetres.
func layout(mm ...float64) joint.Layout {
	var l joint.Layout
	for i := 0; i < len(mm); i += 2 {
		l = append(l, joint.Position{X: unit.Length(mm[i] * unit.Millimetre), Y: unit.Length(mm[i+1] * unit.Millimetre)})
	}
	return l
}

// covers are layouts of covers by name.
var covers = map[string]joint.Layout{
	"rectangle-10": layout(-225, 150, -75, 150, 75, 150, 225, 150, 225, 0, 225, -150, 75, -150, -75, -150, -225, -150, -225, 0),
	"oval-12":      layout(-150, 100, -50, 100, 50, 100, 150, 100, 230, 50, 230, -50, 150, -100, 50, -100, -50, -100, -150, -100, -230, -50, -230, 50),
	"rods-4":       layout(-300, 900, 300, 900, 300, -900, -300, -900),
	"crowded-40":   crowded40(),
}

// crowded40 is a long cover with more bolts along it than a small window has room for.
func crowded40() joint.Layout {
	var mm []float64
	for i := range 18 {
		mm = append(mm, float64(i)*60, 300)
	}
	mm = append(mm, 1050, 200, 1050, 100)
	for i := range 18 {
		mm = append(mm, float64(17-i)*60, 0)
	}
	return layout(append(mm, -30, 100, -30, 200)...)
}

// cover has the half of its bolts done, and the one in the middle at hand.
func cover(l joint.Layout) Ring {
	r := halfDone(len(l))
	r.At, r.Datum, r.ViewedFrom = l, "hinge side", "hall side"
	return r
}

func kept(t *testing.T, name string, lines []string) {
	t.Helper()
	name = filepath.Join("testdata", name+".txt")
	got := strings.Join(lines, "\n") + "\n"
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: got\n%s", name, got)
	}
}

// TestCoverGolden keeps the covers that were looked at and found good, and
// their readings.
func TestCoverGolden(t *testing.T) {
	mono := newTheme(t, "mono", true, false)
	for name, l := range covers {
		for _, size := range [][2]int{{38, 14}, {60, 28}} {
			kept(t, fmt.Sprintf("cover-%s-%dx%d", name, size[0], size[1]), cover(l).Draw(size[0], size[1], mono))
		}
	}
	for _, size := range [][2]int{{38, 14}, {60, 28}} {
		kept(t, fmt.Sprintf("readings-rectangle-10-%dx%d", size[0], size[1]), cover(covers["rectangle-10"]).Readings(size[0], size[1], ten, mono))
		kept(t, fmt.Sprintf("readings-ring-32-%dx%d", size[0], size[1]), halfDone(32).Readings(size[0], size[1], thirtyTwo, mono))
	}
}

var (
	ten = []Reading{{Bolt: 1, Text: "3.4", Widest: true}, {Bolt: 2, Text: "3.25"}, {Bolt: 4, Text: "3.3"}, {Bolt: 5, Text: "3.1"},
		{Bolt: 6, Text: "2.1", Narrowest: true}, {Bolt: 7, Text: "2.2"}, {Bolt: 9}, {Bolt: 10}}
	thirtyTwo = []Reading{{Bolt: 1, Text: "0.134"}, {Bolt: 5, Text: "0.126", Widest: true}, {Bolt: 9, Text: "0.122"}, {Bolt: 13, Text: "0.12"},
		{Bolt: 17, Text: "0.118"}, {Bolt: 21, Text: "0.103", Narrowest: true}, {Bolt: 25, Text: "0.11"}, {Bolt: 29, Text: "0.12"}}
)

// anyCover draws a cover with bolts anywhere in a rectangle, and any marks.
func anyCover(t *rapid.T) (Ring, []Mark) {
	r, all := anyRing(t)
	r.Bolts = min(r.Bolts, 60)
	wide := rapid.IntRange(2, 60).Draw(t, "wide")
	for _, p := range rapid.SliceOfNDistinct(rapid.IntRange(0, wide*40-1), r.Bolts, r.Bolts, rapid.ID[int]).Draw(t, "places") {
		r.At = append(r.At, joint.Position{X: unit.Length(p % wide), Y: unit.Length(p / wide)})
	}
	return r, all
}

// TestCoverFits: in every size nothing stands outside, and the bolt at hand has
// its number.
func TestCoverFits(t *testing.T) {
	ascii, dark := newTheme(t, "dark", true, true), newTheme(t, "dark", false, true)
	rapid.Check(t, func(t *rapid.T) {
		r, _ := anyCover(t)
		r.Datum, r.ViewedFrom = words().Draw(t, "datum"), words().Draw(t, "from")
		w, h := rapid.IntRange(0, 130).Draw(t, "w"), rapid.IntRange(0, 50).Draw(t, "h")
		within(t, strings.Join(r.Draw(w, h, dark), "\n"), w, h)
		text := strings.Join(r.Draw(w, h, ascii), "\n")
		within(t, text, w, h)
		if !isASCII(text) {
			t.Fatalf("not ASCII: %q", text)
		}
		if now := current(r); now > 0 && w >= 20 && h >= 8 {
			if !regexp.MustCompile(fmt.Sprintf(`(>|now )%d\b`, now)).MatchString(ansi.Strip(text)) {
				t.Fatalf("bolt %d has no number in\n%s", now, ansi.Strip(text))
			}
		}
	})
}

// TestCoverTellsTheTruth reads the drawing back: each bolt is in it once, by its
// number with its own mark, at most three cells and a row from its place.
func TestCoverTellsTheTruth(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		r, all := anyCover(t)
		w, h := rapid.IntRange(20, 130).Draw(t, "w"), rapid.IntRange(8, 50).Draw(t, "h")
		lines := r.Draw(w, h, Theme{})
		if strings.TrimSpace(lines[0]) != "v" {
			return // words
		}
		drawn++
		places, _ := r.cells(w, h)
		seen := map[int]bool{}
		for y, line := range lines[1:] {
			for _, at := range token.FindAllStringIndex(line, -1) {
				text := line[at[0]:at[1]]
				b, err := strconv.Atoi(strings.Trim(text, ">#xm="))
				if err != nil || seen[b] || b < 1 || b > r.Bolts || all[b] != markOf(text) {
					t.Fatalf("bolt %d as %q in\n%s", b, text, strings.Join(lines, "\n"))
				}
				seen[b] = true
				if p := places[b-1]; at[0] < p.x-5 || at[0] > p.x+3 || y+1 < p.y-1 || y+1 > p.y+1 {
					t.Fatalf("bolt %d at %d, %d, not %v in\n%s", b, at[0], y+1, p, strings.Join(lines, "\n"))
				}
			}
		}
		if len(seen) != r.Bolts {
			t.Fatalf("%d of %d bolts in\n%s", len(seen), r.Bolts, strings.Join(lines, "\n"))
		}
	})
	if drawn == 0 {
		t.Error("no cover was drawn at all")
	}
}

// TestCoverIsToScale: a square of bolts is twice as many cells wide as high, and
// what is longest fills the room.
func TestCoverIsToScale(t *testing.T) {
	for _, c := range []struct {
		x, y float64
		w, h int
	}{{100, 100, 38, 14}, {100, 100, 90, 20}, {300, 100, 38, 14}, {100, 400, 38, 30}} {
		r := cover(layout(0, c.y, c.x, c.y, c.x, 0, 0, 0))
		at, _ := r.cells(c.w, c.h)
		wide, high := at[2].x-at[0].x, at[2].y-at[0].y
		if d := float64(wide)/2 - float64(high)*c.x/c.y; d < -1 || d > 1 {
			t.Errorf("%v: %d by %d cells", c, wide, high)
		}
		if wide < c.w-mostLabel-3 && high < c.h-3 {
			t.Errorf("%v: %d by %d cells are less than there is room for", c, wide, high)
		}
	}
}

// TestReadings: every reading is in the drawing once, with its bolt, the widest
// and the narrowest by word and shape or by shape, in any size.
func TestReadings(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		r, _ := anyRing(t)
		if rapid.Bool().Draw(t, "cover") {
			r, _ = anyCover(t)
		}
		n := rapid.IntRange(1, min(8, r.Bolts)).Draw(t, "readings")
		var all []Reading
		for i, b := range rapid.SliceOfNDistinct(rapid.IntRange(1, r.Bolts), n, n, rapid.ID[int]).Draw(t, "at") {
			all = append(all, Reading{Bolt: b, Text: strconv.Itoa(1000 + b), Widest: i == 0, Narrowest: i == 1})
		}
		w, h := rapid.IntRange(0, 130).Draw(t, "w"), rapid.IntRange(0, 50).Draw(t, "h")
		text := strings.Join(r.Readings(w, h, all, Theme{}), "\n")
		within(t, text, w, h)
		if w < 20 || h < 8 {
			return
		}
		if !strings.HasPrefix(text, "bolt: ") {
			drawn++
		}
		for i, d := range all {
			want := fmt.Sprintf("%d %d", d.Bolt, 1000+d.Bolt)
			switch i {
			case 0:
				want = fmt.Sprintf("%d <%d>", d.Bolt, 1000+d.Bolt)
			case 1:
				want = fmt.Sprintf("%d >%d<", d.Bolt, 1000+d.Bolt)
			}
			if n := len(regexp.MustCompile(`\b`+want).FindAllString(strings.Join(strings.Fields(text), " "), -1)); n != 1 {
				t.Fatalf("%q is there %d times in\n%s", want, n, text)
			}
		}
	})
	if drawn == 0 {
		t.Error("no readings were drawn at all")
	}
}

func TestReadingsAreNotTrusted(t *testing.T) {
	r := cover(covers["rods-4"])
	text := strings.Join(r.Readings(60, 20, []Reading{{Bolt: 1, Text: "\x1b[31m3\u202e"}, {Bolt: 9, Text: "1"}}, Theme{}), "\n")
	if strings.ContainsAny(text, "\x1b\u202e") {
		t.Errorf("%q", text)
	}
}
