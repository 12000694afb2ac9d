package sequence

import (
	"strings"
	"testing"
)

func TestExpectedWords(t *testing.T) {
	check := Walk{phase: phaseCheck}
	for _, test := range []struct {
		w    Walk
		e    Expected
		want string
	}{
		{check, Expected{Low: 3, High: 6, Looked: 25}, ": 3 to 6 in all"},
		{check, Expected{Low: 4, High: 4, Looked: 25}, ": 4 in all"},
		{check, Expected{Low: 9, High: 26, Looked: 25}, ": 9 to more than 25 in all"},
		{check, Expected{Low: 26, High: 26, Looked: 25}, ": more than 25 in all"},
		{check, Expected{}, ""},
		{check, Expected{Low: 3, High: 2, Looked: 25}, ""},
		{Walk{phase: phasePass}, Expected{Low: 3, High: 6, Looked: 25}, ""},
		{Walk{phase: phaseCheck, series: 1}, Expected{Low: 3, High: 6, Looked: 25}, ""}, // after the rest
	} {
		got := test.w.ExpectedWords(test.e)
		if test.want == "" && got != "" || !strings.Contains(got, test.want) || got != "" && !strings.Contains(got, "estimate") {
			t.Errorf("%+v: %q, want %q in it", test.e, got, test.want)
		}
	}
}
