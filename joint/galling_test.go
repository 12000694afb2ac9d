package joint

import (
	"slices"
	"testing"
)

func TestAustenitic(t *testing.T) {
	for grade, want := range map[string]bool{"A193 B7": false, "B7M": false, "A193 B8": true, "A193 B8M class 2": true, "A320 L7": false,
		"A453 660 class D": true, "A2-70": true, "A4-80": true, "A4L-80": true, "A193 Gr.B8M": true, "A193B8M": true, "8.8": false, "": false, "A325": false} {
		if Austenitic(grade) != want {
			t.Errorf("%q: %v", grade, !want)
		}
	}
}

// A dry surface is no lubricant (common practice).
func TestGalling(t *testing.T) {
	for _, c := range []struct {
		grade, lubricant string
		want             []string
	}{
		{"A193 B7", "", nil}, {"A193 B8M class 2", "", []string{"galling"}}, {"A193 B8M class 2", "nickel anti-seize", []string{"galling-lubricated"}},
		{"A4-80", "dry stainless on stainless", []string{"galling"}}, {"A4-80", "As-received steel, no lubricant", []string{"galling"}},
	} {
		found := Joint{Grade: c.grade, Lubricant: c.lubricant}.gallingFindings()
		if got := codes(found); !slices.Equal(got, c.want) {
			t.Errorf("%s, %s: %v, want %v", c.grade, c.lubricant, got, c.want)
		}
	}
}
