package plain

import (
	"reflect"
	"slices"
	"testing"

	"evenload/sequence"
)

// TestCauseOfLeak: a yes has to tell the cause, what was done and who decided.
func TestCauseOfLeak(t *testing.T) {
	o := drain(t)
	o.Plan.AfterLeak([]sequence.Bolt{2})
	w := walk(t, t.TempDir(), o, slices.Concat(gate[:9], []string{"yes", "", "", "", "yes", "scratch", "new gasket", "Ann", "yes", "scratch", "new gasket", "Eva"})...)
	w.says(t, "QUESTION: It leaked beside bolt 2.", "Cause: \n", "Responsible engineer, not the operator: \n", "NOT TAKEN: Cause: needed", "NOT TAKEN: Responsible engineer: ", "RECORDED: answered")
	if got := w.last(t); !reflect.DeepEqual(got, sequence.Answered{Question: "leak", Answer: sequence.Yes, Told: []string{"scratch", "new gasket", "Eva"}}) {
		t.Errorf("last on the card: %#v", got)
	}
}
