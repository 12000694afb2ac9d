package unit

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestParseDifference(t *testing.T) {
	for text, want := range map[string]Difference{
		"0.17": {Value: 0.17}, " 0,17 ": {Value: 0.17}, "3.2-2.4": {0.8, 3.2, 2.4}, "182,58 - 182,41": {0.17, 182.58, 182.41}, "3-3": {0, 3, 3},
	} {
		if got, err := ParseDifference(text, "mm"); err != nil || got != want {
			t.Errorf("%q is %+v, want %+v: %v", text, got, want, err)
		}
	}
	for _, text := range []string{"", "-", "2.4-3.2", "-0.1", "3-", "3--2", "3-2-1", "three", "1e3-1", "NaN-1"} {
		if got, err := ParseDifference(text, "mm"); err == nil {
			t.Errorf("%q is read as %+v", text, got)
		}
	}
}

// Two readings give their difference to what they were typed to.
func TestDifferenceOfTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		less := rapid.IntRange(0, 500_000).Draw(t, "less")
		grew := rapid.IntRange(0, 5_000).Draw(t, "grew")
		text := fmt.Sprintf("%.3f-%.3f", float64(less+grew)/1000, float64(less)/1000)
		got, err := ParseDifference(text, "mm")
		if err != nil || math.Abs(got.Value-float64(grew)/1000) > 1e-12 {
			t.Fatalf("%s is %+v: %v", text, got, err)
		}
	})
}
