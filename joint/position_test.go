package joint

import (
	"math"
	"slices"
	"testing"

	"evenload/joint/unit"
)

// square has four bolts, numbered clockwise from the upper left one.
var square = Layout{{-0.1, 0.1}, {0.1, 0.1}, {0.1, -0.1}, {-0.1, -0.1}}

func TestLayoutCrowded(t *testing.T) {
	if _, _, is := square.Crowded(0.2); is {
		t.Error("bolts just far enough apart are crowded")
	}
	if i, j, is := square.Crowded(0.21); !is || i != 0 || j != 1 {
		t.Errorf("bolts %d and %d, %v", i, j, is)
	}
}

func TestLayoutOnOneLine(t *testing.T) {
	for _, c := range []struct {
		l    Layout
		want bool
	}{
		{square, false},
		{Layout{{0, 0}, {0.1, 0.2}, {0.3, 0.6}}, true},
		{Layout{{0, 0}, {0.1, 0.202}, {0.3, 0.6}}, true},
		{Layout{{0, 0}, {0.1, 0.22}, {0.3, 0.6}}, false},
	} {
		if got := c.l.OnOneLine(); got != c.want {
			t.Errorf("%v: %v", c.l, got)
		}
	}
}

// TestLayoutRound: clockwise from bolt 1, wherever the origin is.
func TestLayoutRound(t *testing.T) {
	for off := range 4 {
		var turned Layout
		for i := range square {
			p := square[(i+off)%4]
			turned = append(turned, Position{p.X + 3, p.Y - 7})
		}
		if r := turned.Round(); !slices.Equal(r, []int{0, 1, 2, 3}) || turned.Numbering() != Clockwise {
			t.Errorf("from %d: %v", off, r)
		}
		slices.Reverse(turned)
		if r := turned.Round(); !slices.Equal(r, []int{0, 3, 2, 1}) || turned.Numbering() != CounterClockwise {
			t.Errorf("reversed from %d: %v", off, r)
		}
	}
	if r := (Layout{square[0], square[2], square[1], square[3]}); r.Numbering() != Otherwise {
		t.Error("numbers across run round")
	}
	if (Layout{}).Numbering() != Clockwise {
		t.Error("a ring is not numbered clockwise")
	}
}

func TestPositionText(t *testing.T) {
	p := Position{120 * unit.Millimetre, -unit.Length(60.5 * unit.Millimetre)}
	if got := p.Text(unit.SI); got != "(120, -60.5)" {
		t.Error(got)
	}
	if got := (Position{unit.Inch, unit.Length(math.Copysign(0, -1))}).Text(unit.US); got != "(1, 0)" {
		t.Error(got)
	}
}

func TestBoxAndMiddle(t *testing.T) {
	l := append(slices.Clone(square), Position{0.6, 0})
	low, high := l.Box()
	if m := l.Middle(); low != (Position{-0.1, -0.1}) || high != (Position{0.6, 0.1}) || math.Abs(float64(m.X)-0.12) > 1e-12 || math.Abs(float64(m.Y)) > 1e-12 {
		t.Errorf("%v, %v, %v", low, high, m)
	}
}
