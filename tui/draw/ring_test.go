package draw

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden files anew")

// every second bolt of a pass is done, and the one half round is at hand.
func halfDone(bolts int) Ring {
	return Ring{Bolts: bolts, Datum: "top centre", ViewedFrom: "the pump side", Mark: func(b int) Mark {
		switch {
		case b == bolts/2+1:
			return Current
		case b%2 == 0:
			return Done
		}
		return Open
	}}
}

// TestRingGolden keeps the circles that were looked at and found good.
func TestRingGolden(t *testing.T) {
	mono := newTheme(t, "mono", true, false)
	for _, size := range [][2]int{{38, 14}, {60, 28}} {
		for _, bolts := range []int{4, 5, 8, 12, 16, 32, 200} {
			name := filepath.Join("testdata", fmt.Sprintf("ring-%d-%dx%d.txt", bolts, size[0], size[1]))
			got := strings.Join(halfDone(bolts).Draw(size[0], size[1], mono), "\n") + "\n"
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
	}
}

// TestRingFits: in every size nothing stands outside, and the bolt at hand has
// its number.
func TestRingFits(t *testing.T) {
	ascii, dark := newTheme(t, "dark", true, true), newTheme(t, "dark", false, true)
	rapid.Check(t, func(t *rapid.T) {
		r, _ := anyRing(t)
		r.Datum, r.ViewedFrom = words().Draw(t, "datum"), words().Draw(t, "from")
		w, h := rapid.IntRange(0, 130).Draw(t, "w"), rapid.IntRange(0, 50).Draw(t, "h")
		within(t, strings.Join(r.Draw(w, h, dark), "\n"), w, h)
		text := strings.Join(r.Draw(w, h, ascii), "\n")
		within(t, text, w, h)
		if !isASCII(text) {
			t.Fatalf("not ASCII: %q", text)
		}
		if now := current(r); now > 0 && w >= 20 && h >= 8 {
			number := regexp.MustCompile(fmt.Sprintf(`(>|now )%d\b`, now))
			if !number.MatchString(ansi.Strip(text)) {
				t.Fatalf("bolt %d has no number in\n%s", now, ansi.Strip(text))
			}
		}
	})
}

// anyRing draws a ring with any marks, one bolt at hand at most.
func anyRing(t *rapid.T) (Ring, []Mark) {
	bolts := rapid.IntRange(1, 200).Draw(t, "bolts")
	all := make([]Mark, bolts+1)
	for b := range all {
		all[b] = rapid.SampledFrom([]Mark{Open, Done, Left, Moved, Still}).Draw(t, "mark")
	}
	all[rapid.IntRange(0, bolts).Draw(t, "now")] = Current // 0 is no bolt
	return Ring{Bolts: bolts, Mark: func(b int) Mark { return all[b] }, Bolt1OnDatum: rapid.Bool().Draw(t, "on datum")}, all
}

func current(r Ring) int {
	for b := 1; b <= r.Bolts; b++ {
		if r.Mark(b) == Current {
			return b
		}
	}
	return 0
}

var token = regexp.MustCompile(`>?\d+[#xm=]?|[.#>xm=]`)

// TestRingTellsTheTruth reads the drawing back: each bolt is in it once, with
// its own mark, where its number belongs on the circle.
func TestRingTellsTheTruth(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		r, all := anyRing(t)
		w, h := rapid.IntRange(20, 130).Draw(t, "w"), rapid.IntRange(8, 50).Draw(t, "h")
		lines := r.Draw(w, h, Theme{})
		if !strings.Contains(lines[0], "v") || strings.Contains(lines[0], "of") {
			return // words
		}
		drawn++
		o := newOval(w, h)
		count := map[Mark]int{}
		seen := map[int]bool{}
		for y, line := range lines[1:] {
			for _, at := range token.FindAllStringIndex(line, -1) {
				text := line[at[0]:at[1]]
				b, err := strconv.Atoi(strings.Trim(text, ">#xm="))
				if err != nil {
					count[markOf(text)]++
					continue
				}
				if seen[b] || b < 1 || b > r.Bolts || all[b] != markOf(text) {
					t.Fatalf("bolt %d as %q in\n%s", b, text, strings.Join(lines, "\n"))
				}
				seen[b] = true
				count[all[b]]++
				if all[b] == Current {
					continue // may stand inside
				}
				turn := r.turn(b - 1)
				x := float64(o.cx) + float64(o.rx)*math.Sin(turn)
				row := float64(o.cy) - float64(o.ry)*math.Cos(turn)
				if math.Abs(float64(at[0])-x) > 3 || math.Abs(float64(y+1)-row) > 0.51 {
					t.Fatalf("bolt %d at %d, %d, not %.1f, %.1f", b, at[0], y+1, x, row)
				}
			}
		}
		if count[Current] == 2 {
			count[Current] = 1 // its shape on the circle and its number inside
		}
		for m := range marks {
			want := 0
			for _, mark := range all[1:] {
				if mark == m {
					want++
				}
			}
			if count[m] != want {
				t.Fatalf("%d of mark %d, want %d in\n%s", count[m], m, want, strings.Join(lines, "\n"))
			}
		}
	})
	if drawn == 0 {
		t.Error("no ring was drawn at all")
	}
}

func markOf(text string) Mark {
	for m := Done; m < marks; m++ {
		if strings.Contains(text, shapes[m]) {
			return m
		}
	}
	return Open
}

// TestRingIsRound: cells are twice as high as wide, so the circle is twice as
// wide in cells as it is high, and even about both axes.
func TestRingIsRound(t *testing.T) {
	for _, size := range [][2]int{{38, 14}, {39, 16}, {60, 28}, {59, 32}, {30, 20}} {
		o := newOval(size[0], size[1])
		if ratio := float64(2*o.rx+1) / float64(2*o.ry+1); ratio < 1.75 || ratio > 2.25 {
			t.Errorf("%v: %+v, ratio %.2f", size, o, ratio)
		}
	}
	o := newOval(60, 28)
	for n := 2; n <= 64; n += 2 {
		for i := range n {
			turn := 2 * math.Pi * (float64(i) + 0.5) / float64(n)
			x, y := o.at(turn, 1)
			mx, my := o.at(2*math.Pi-turn, 1)
			ox, oy := o.at(turn+math.Pi, 1)
			if x-o.cx != o.cx-mx || y != my || x-o.cx != o.cx-ox || y-o.cy != o.cy-oy {
				t.Errorf("%d bolts: %d, %d is mirrored at %d, %d and faces %d, %d", n, x, y, mx, my, ox, oy)
			}
		}
	}
}

func TestRingFirstBolt(t *testing.T) {
	r := halfDone(4)
	lines := r.Draw(38, 14, Theme{})
	v := strings.Index(lines[0], "v")
	if first := strings.Index(strings.Join(lines, "\n"), " 1\n"); first < 0 {
		t.Errorf("no bolt 1 at the right end of a line in\n%s", strings.Join(lines, "\n"))
	}
	r.Bolt1OnDatum = true
	if lines := r.Draw(38, 14, Theme{}); strings.TrimSpace(lines[1]) != "1" || strings.Index(lines[1], "1") != v {
		t.Errorf("bolt 1 is not below the datum in\n%s", strings.Join(lines, "\n"))
	}
}

func TestRingWords(t *testing.T) {
	r := Ring{Bolts: 200, Mark: func(b int) Mark {
		switch {
		case b == 18:
			return Current
		case b == 5 || b == 6:
			return Left
		case b < 18:
			return Done
		}
		return Open
	}}
	if got := strings.Join(r.Draw(38, 14, Theme{}), "|"); got != "now 18 of 200|left 5, 6|done 1-4, 7-17" {
		t.Errorf("%q", got)
	}
	if got := strings.Join(r.Draw(13, 2, Theme{}), "|"); got != "now 18 of 200|left 5, 6 ~" {
		t.Errorf("%q", got)
	}
	r.Mark = func(int) Mark { return Open }
	if got := strings.Join(r.Draw(38, 14, Theme{}), "|"); got != "200 bolts, none done" {
		t.Errorf("%q", got)
	}
	if got := r.Draw(0, 14, Theme{}); got != nil {
		t.Errorf("%q", got)
	}
}

// Where several tools work, each bolt at hand has its tool's letter beside its
// number: on the circle, inside it where it is crowded, and in words.
func TestRingNamesTheTools(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tools := rapid.SampledFrom([]int{2, 4}).Draw(t, "tools")
		bolts := rapid.IntRange(2*tools, 200).Draw(t, "bolts")
		first := rapid.IntRange(0, bolts/tools-1).Draw(t, "first")
		now := map[int]string{}
		for slot := range tools {
			now[1+first+slot*bolts/tools] = string(rune('A' + slot))
		}
		r := Ring{Bolts: bolts, Datum: "top", ViewedFrom: "the pump side", Tool: func(b int) string { return now[b] }, Mark: func(b int) Mark {
			if now[b] != "" {
				return Current
			}
			return []Mark{Open, Done, Left}[b%3]
		}}
		w, h := rapid.IntRange(34, 130).Draw(t, "w"), rapid.IntRange(12, 50).Draw(t, "h")
		text := strings.Join(r.Draw(w, h, Theme{}), "\n")
		within(t, text, w, h)
		for b, letter := range now {
			if !regexp.MustCompile(fmt.Sprintf(`%s(>| )%d\b`, letter, b)).MatchString(text) {
				t.Fatalf("bolt %d has no letter %s in\n%s", b, letter, text)
			}
		}
	})
}
