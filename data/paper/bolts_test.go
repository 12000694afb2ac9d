package paper

import (
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"evenload/data/report"
	"evenload/sequence"
)

// eachBolt is what the table of the bolts says, without spaces.
func eachBolt(t *testing.T, d report.AsDone) string {
	t.Helper()
	_, text, _ := strings.Cut(squeezed(strings.Join(pages(t, recorded(t, d)), " ")), squeezed("EACH BOLT"))
	text, _, _ = strings.Cut(text, squeezed("ALL OTHER EVENTS"))
	return text
}

// TestProblemsAtTheirBolts: an x stands where a bolt had a problem, an n where it was
// brought up alone, and nothing where all went well; new parts have a ring.
func TestProblemsAtTheirBolts(t *testing.T) {
	c := begin(t, load(t, file(t, drain)))
	second := func(s sequence.Step) bool {
		work, ok := s.(sequence.Tighten)
		return ok && work.Pass == 2 && work.Bolts[0] == 3
	}
	c.until(second)
	c.do(sequence.ProblemFound{Bolt: 3, What: sequence.Broke, Batch: "H-441"}, sequence.Released{Of: sequence.OfProblem, Bolt: 3, Named: engineer}, sequence.Replaced{Bolt: 3, Batch: "H-460"})
	c.until(func(s sequence.Step) bool { check, ok := s.(sequence.Check); return ok && check.Bolt == 2 })
	c.do(sequence.ProblemFound{Bolt: 2, What: sequence.OtherTrouble, Reason: "socket worn", Now: true})
	c.toTheEnd()
	d := c.done()
	got := eachBolt(t, d)
	passes, rounds := d.Columns()
	at := func(b sequence.Bolt, c report.Column) string {
		turn, ok := d.Last(b, c)
		if !ok {
			t.Fatalf("bolt %d has nothing in %s", b, d.Text(c))
		}
		return turn.At.Format("15:04:05")
	}
	want := fmt.Sprintf("1%s%sstill 2%s%sxstill 3n%sx%sstill 4%s%sstill", at(1, passes[0]), at(1, passes[1]), at(2, passes[0]), at(2, passes[1]),
		at(3, passes[0]), at(3, passes[1]), at(4, passes[0]), at(4, passes[1]))
	if len(rounds) != 1 || !strings.Contains(got, squeezed(want)) {
		t.Errorf("the bolts are\n%s\nwant\n%s", got, squeezed(want))
	}
	const ringed = "ring: new parts"
	if !holds(strings.Join(pages(t, recorded(t, d)), " "), ringed) {
		t.Error("new parts have no sign in the picture")
	}
	plain := begin(t, load(t, file(t, drain)))
	plain.toTheEnd()
	if text := strings.Join(pages(t, recorded(t, plain.done())), " "); holds(text, ringed) {
		t.Error("a joint without new parts has their sign")
	}
}

// TestBoltsBearTheSignOn: each bolt has the number of the sign-on under which it was
// done, so that the second person of that time can be told.
func TestBoltsBearTheSignOn(t *testing.T) {
	c := begin(t, load(t, file(t, drain)))
	c.do(sequence.SignedOn{Name: "Ann", Second: "Bo"})
	c.until(func(s sequence.Step) bool { work, ok := s.(sequence.Tighten); return ok && work.Pass == 2 })
	c.do(sequence.Suspended{}, sequence.SignedOn{Name: "Ann", Second: "Wim"})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Check); return ok })
	d := c.done()
	passes, _ := d.Columns()
	got := eachBolt(t, d)
	for pass, column := range passes {
		turn, _ := d.Last(1, column)
		if want := turn.At.Format("15:04:05") + fmt.Sprint(pass+1); !strings.Contains(got, want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
	text := strings.Join(pages(t, recorded(t, d)), " ")
	for i, second := range []string{"Bo", "Wim"} {
		p := d.People[i]
		if want := fmt.Sprint(i+1, "Ann", p.From.Format(time.DateOnly), "---", second, "-", p.From.Format(time.TimeOnly)); !holds(text, want) {
			t.Errorf("no %q among the people", want)
		}
	}
}

// TestDamagedIsNotKnownNorSigned: the picture of a damaged card says not known, as its
// table does, and there is nothing to sign.
func TestDamagedIsNotKnownNorSigned(t *testing.T) {
	c := begin(t, load(t, file(t, drain)))
	c.until(func(s sequence.Step) bool { work, ok := s.(sequence.Tighten); return ok && work.Pass == 2 })
	whole := strings.Join(pages(t, recorded(t, c.done())), " ")
	path := c.s.Path()
	text := file(t, path)
	last := strings.LastIndex(text, `"kind":"set"`)
	if os.WriteFile(path, []byte(text[:last]+strings.Replace(text[last:], "set", "sed", 1)), 0o644) != nil {
		t.Fatal("not spoilt")
	}
	damaged := strings.Join(pages(t, recorded(t, doneOf(t, path))), " ")
	for _, one := range []struct {
		words string
		whole bool
	}{{"not done in the last pass", true}, {"signature", true}, {"?not known", false}, {"No lines to sign on: the card is damaged", false}} {
		if holds(whole, one.words) != one.whole || holds(damaged, one.words) == one.whole {
			t.Errorf("%q: whole %t, damaged %t", one.words, holds(whole, one.words), holds(damaged, one.words))
		}
	}
}

// TestEachReadingHasItsLine: in the columns of readings, and in no others.
func TestEachReadingHasItsLine(t *testing.T) {
	const four = "2.7 bar running; 2.7 bar running (bolt 4); 4.811 bar running; 4.8 bar running"
	draw := func(p *page) {
		p.face("", 8)
		if got := p.lines(column{width: 34, each: true}, four); len(got) != 4 || got[1] != "2.7 bar running (bolt 4)" {
			t.Errorf("the readings stand as %q", got)
		}
		if got := p.lines(column{width: 170}, four); len(got) != 1 {
			t.Errorf("a text stands as %q", got)
		}
	}
	if err := (document{A4, time.Now(), "test", heading{}, draw}).write(io.Discard); err != nil {
		t.Fatal(err)
	}
}
