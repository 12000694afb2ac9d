package draw

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestBig(t *testing.T) {
	want := []string{
		"#####           ####          ### ",
		"    #               #        #   #",
		"   #             ###   ####    ## ",
		"  #                 #             ",
		"  #    ##       ####           #  ",
	}
	got := Big("7. 3-/")
	for i := range want {
		if strings.TrimRight(got[i], " ") != strings.TrimRight(want[i], " ") {
			t.Errorf("row %d: %q, want %q", i, got[i], want[i])
		}
	}
	seen := map[[5]string]rune{unknown: '/'}
	for r, d := range digits {
		if other, ok := seen[d]; ok {
			t.Errorf("%q looks like %q", r, other)
		}
		seen[d] = r
	}
}

func TestBigRowsAreEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9. \-x/·]{0,9}`).Draw(t, "text")
		rows := Big(text)
		if len(rows) != 5 {
			t.Fatalf("%d rows", len(rows))
		}
		for _, row := range rows {
			if len(row) != len(rows[0]) || strings.Trim(row, "# ") != "" {
				t.Fatalf("%q beside %q", row, rows[0])
			}
		}
	})
}
