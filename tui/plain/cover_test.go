package plain

import (
	"os"
	"slices"
	"strings"
	"testing"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/report"
	"evenload/joint"
	"evenload/sequence"
)

// filterCover freezes the job of a rectangular cover of ten bolts.
func filterCover(t *testing.T) sequence.CardOpened {
	t.Helper()
	j, err := job.Load("../../testdata/jobs/filter-cover-10.toml")
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := j.Plan(joint.DateOf(morning))
	return sequence.CardOpened{Format: 1, Program: "evenload test", JobFile: "filter-cover-10.toml", JobSHA256: strings.Repeat("0", 64), Plan: plan}
}

// TestWholeCover: a cover from sign-on to the closed card and its record. The
// first gaps are wide on one side and are measured again; a nut moves in the
// first check round.
func TestWholeCover(t *testing.T) {
	o := filterCover(t)
	yes := 0
	for _, q := range o.Plan.Questions {
		if q.When == sequence.AtGate && q.Typed == "" {
			yes++
		}
	}
	pass := func(set, widest, at, narrowest, other string) []string {
		return slices.Concat([]string{set, ""}, slices.Repeat([]string{"d"}, 10), []string{set, widest, at, narrowest, other})
	}
	still := slices.Repeat([]string{"s"}, 10)
	w := walk(t, t.TempDir(), o, slices.Concat([]string{"Ann", "Bo", "2-C"}, slices.Repeat([]string{"yes"}, yes), []string{"done"},
		[]string{"2.1", "2.4", "3.1", "3.3", "3.4", "2.9", "2.4", "2.2", "m", "2.9", "2.9", "3.0", "3.1", "3.2", "3.1", "3.0", "2.9"},
		pass("1.8", "3.0", "6", "2.8", "1"), pass("3.0", "2.8", "6", "2.6", "1"), pass("4.6", "2.5", "6", "2.4", "10"),
		[]string{"4.6", "", "s", "m"}, still[:8], still, []string{"4.6", "+61m", "g", "yes", "yes", "yes", "4.6", ""}, still,
		[]string{"4.6", "2.4", "2.4", "2.4", "2.4", "2.5", "2.4", "2.4", "2.4", "yes", "yes", "yes", "Wim", "inspector"})...)
	w.says(t, "QUESTION: Are bolts numbered as on the drawing, seen from the hall side?", "in the order 2, 7, 3, 8, 5, 10, 4, 9, 6, 1",
		"READ: bolt 1 2.1 mm narrowest, ", "bolt 6 3.4 mm widest", "NOT EVEN: Wide at bolts 4, 5, 6, 7.", "stay at snug, work the wide side (bolts 4, 5, 6, 7)",
		"GAPS TAKEN: Spread 0.3 mm.", "BOLT 2, then 7, then 3", "BEFORE: bolt 1 2.9 mm", "GAPS TAKEN: Spread 0.2 mm. Closing: the spread was 0.3 mm. Beside bolt 6 it was 3.2 mm. Wide at bolts 5, 6, 7.",
		"BOLT 1, clockwise, then 2, then 3", "CHECK ROUND 2", "GAPS TAKEN: Spread 0.1 mm. As before: the spread was 0.1 mm.", "CLOSED: ")
	if !w.Walk.IsClosed() {
		t.Error("the card is not closed")
	}
	hold(t, "walk-plain-cover.txt", strings.Replace(w.text, "seal "+w.Seal(), "seal SEAL", 1))
	c, err := card.Read(w.Path())
	if err != nil {
		t.Fatal(err)
	}
	var record strings.Builder
	if err := report.Record(&record, c); err != nil {
		t.Fatal(err)
	}
	hold(t, "record-cover.txt", unsealed(c, record.String()))
}

// unsealed is a record without what goes with every byte of the card.
func unsealed(c card.Card, record string) string {
	return strings.NewReplacer("seal "+c.Seal(), "seal SEAL", "-"+c.Entries[0].Hash[:6]+"\n", "-FIRST\n").Replace(record)
}

// hold holds a text against testdata/golden, line by line.
func hold(t *testing.T, name, got string) {
	t.Helper()
	path := "../../testdata/golden/" + name
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	said, want := strings.Split(got, "\n"), strings.Split(string(text), "\n")
	for i := range max(len(said), len(want)) {
		if i >= len(said) || i >= len(want) || said[i] != want[i] {
			t.Fatalf("from line %d of %s on, got\n%s", i+1, path, strings.Join(said[min(i, len(said)):], "\n"))
		}
	}
}
