package paper

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/sequence"
)

const drain = "../../testdata/walk/drain-4.toml"

// goldenRecord is the SHA-256 of the record of testdata/cards: the same card
// gives the same bytes. Another version of Go or of the library may compress
// otherwise: look at the pages before it is changed.
const goldenRecord = "ef0c68b099915180851cf9197ec595c4bd916c7c461276e96b499f46417ef6f6"

func TestRecordIsTheSameEveryTime(t *testing.T) {
	d := doneOf(t, "../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	first := recorded(t, d)
	if second := recorded(t, d); !bytes.Equal(first, second) {
		t.Error("two records of one card differ")
	}
	if got := fmt.Sprintf("%x", sha256.Sum256(first)); got != goldenRecord {
		t.Errorf("the record's SHA-256 is %s", got)
	}
}

// TestRecordSaysAll: every sentence of the card but the marks of bolts, on
// pages that are numbered and bear id and seal.
func TestRecordSaysAll(t *testing.T) {
	d := doneOf(t, "../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	all := pages(t, recorded(t, d))
	for i, p := range all {
		for _, want := range []string{d.ID, d.Seal, fmt.Sprintf("page %d of %d", i+1, len(all))} {
			if !holds(p, want) {
				t.Errorf("page %d does not say %q:\n%s", i+1, want, p)
			}
		}
	}
	text := strings.Join(all, " ")
	for _, e := range d.Events {
		if !e.Marks && !holds(text, e.Text) {
			t.Errorf("line %d is not said: %s", e.N, e.Text)
		}
	}
	for _, e := range d.Walk.Exceptions() {
		if !holds(text, e) {
			t.Errorf("not said: %s", e)
		}
	}
	if holds(text, "DRAFT") || holds(text, "DAMAGED") {
		t.Error("a closed card is marked")
	}
}

// holds looks for words, wherever lines were broken.
func holds(text, words string) bool {
	return strings.Contains(squeezed(text), squeezed(words))
}

func squeezed(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, text)
}

// TestLongRecord: 64 bolts in 5 passes, two people, a trainee: every bolt has
// its times, every page names the supervisor.
func TestLongRecord(t *testing.T) {
	text := strings.NewReplacer("count  = 32", "count  = 64", `["25 %", "50 %", "75 %", "100 %"]`, `["30 %", "45 %", "60 %", "80 %", "100 %"]`).Replace(file(t, jobs+"exchanger-cover-32.toml"))
	c := begin(t, load(t, text))
	if p := c.s.Walk.Plan(); p.Bolts != 64 || len(p.Passes) != 5 {
		t.Fatalf("%d bolts, %d passes", p.Bolts, len(p.Passes))
	}
	c.do(sequence.SignedOn{Name: "Ann", Role: "fitter", Supervisor: "Jo"})
	c.toTheEnd()
	d := c.done()
	all := pages(t, recorded(t, d))
	if len(all) < 5 || len(all) > 14 {
		t.Errorf("%d pages", len(all))
	}
	for i, p := range all {
		if !holds(p, "TRAINEE Ann, supervised by Jo") {
			t.Errorf("page %d does not name the supervisor", i+1)
		}
	}
	said := strings.Join(all, " ")
	for _, turn := range d.Turns {
		if turn.Round == 0 && !strings.Contains(said, turn.At.Format("15:04:05")) {
			t.Errorf("bolt %d of pass %d is not on the pages", turn.Bolt, turn.Pass)
		}
	}
}

// TestRecordOfTwoTools: each bolt with the letter of its tool.
func TestRecordOfTwoTools(t *testing.T) {
	c := begin(t, load(t, file(t, jobs+"booster-dn300-pn25.toml")))
	c.toTheEnd()
	d := c.done()
	text := strings.Join(pages(t, recorded(t, d)), " ")
	for _, turn := range d.Turns {
		if turn.Round > 0 {
			continue
		}
		want := "A"
		if d.Plan.SlotOf(turn.Bolt) == 1 {
			want = "B"
		}
		if turn.Letter != want || !holds(text, want+" "+turn.At.Format("15:04:05")) {
			t.Errorf("bolt %d of pass %d: tool %q, want %s", turn.Bolt, turn.Pass, turn.Letter, want)
		}
	}
}

func TestDraftAndDamagedAreMarked(t *testing.T) {
	j := load(t, file(t, drain))
	j.About.ApprovedBy = ""
	c := begin(t, j)
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Tighten); return ok })
	d := c.done()
	for i, p := range pages(t, recorded(t, d)) {
		if !strings.Contains(p, "DRAFT") || !strings.Contains(p, "UNAPPROVED") || strings.Contains(p, "DAMAGED") {
			t.Errorf("draft, page %d: %s", i+1, p)
		}
	}
	path := c.s.Path()
	text := file(t, path)
	spoilt := strings.Replace(text, `"answer":"yes"`, `"answer":"no"`, 1)
	if spoilt == text || os.WriteFile(path, []byte(spoilt), 0o644) != nil {
		t.Fatal("not spoilt")
	}
	for i, p := range pages(t, recorded(t, doneOf(t, path))) {
		if !strings.Contains(p, "DAMAGED") || strings.Contains(p, "DRAFT") {
			t.Errorf("damaged, page %d: %s", i+1, p)
		}
	}
}

// TestForkOnEveryPage: with the other file and the line where they part.
func TestForkOnEveryPage(t *testing.T) {
	d := doneOf(t, "../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	d.Forks = []report.Fork{{File: "from-the-other-laptop.card.jsonl", Line: 40}}
	for i, p := range pages(t, recorded(t, d)) {
		if !holds(p, "FORK: from-the-other-laptop.card.jsonl differs from line 40 on") {
			t.Errorf("page %d: %s", i+1, p)
		}
	}
}

// TestHostileText: what moves or hides text is visible, what the font lacks is
// named, a word without end stays on the page.
func TestHostileText(t *testing.T) {
	j := load(t, file(t, drain))
	j.About.Where = "Насосная µ Ω \u202e\x1b[2J 漢 " + strings.Repeat("W", 400)
	c := begin(t, j)
	c.name = "=1+1 \u05d0"
	c.do(sequence.SignedOn{Name: c.name})
	c.do(sequence.NoteMade{Text: "\U0001f600 {nb} (\\) \x00 " + strings.Repeat("x", 1000)})
	c.until(func(s sequence.Step) bool { _, ok := s.(sequence.Tighten); return ok })
	text := strings.Join(pages(t, recorded(t, c.done())), " ")
	for _, want := range []string{"µ", `\u{202e}`, `\u{1b}[2J`, "[U+6F22]", "[U+05D0]", "[U+1F600]", "{nb} (\\)", "NOT IN THE FONT of this page"} {
		if !holds(text, want) {
			t.Errorf("%q is not on the pages:\n%s", want, text)
		}
	}
	if n := strings.Count(squeezed(text), "W"); n < 400 {
		t.Errorf("%d of 400 signs of a long word are left", n)
	}
}

// TestEveryEventHasItsPlace: none is lost, and what is no usual event stands
// among the deviations.
func TestEveryEventHasItsPlace(t *testing.T) {
	c, err := card.Read("../../testdata/cards/DH-220-D1.20261125-aaaaaa.card.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	d := doneOf(t, c.Path)
	if len(d.Events) != len(c.Entries) {
		t.Errorf("%d events of %d lines", len(d.Events), len(c.Entries))
	}
	for _, e := range d.Events {
		if e.Marks && !e.Routine && !e.Back {
			t.Errorf("line %d is a mark and no routine", e.N)
		}
	}
}

// TestNewPartsBeforeACheckRound: parts that went in before a tool came to the bolt name
// no tool in place of that of the plan, and their turn has the tool in use.
func TestNewPartsBeforeACheckRound(t *testing.T) {
	c := begin(t, load(t, file(t, drain)))
	c.until(func(s sequence.Step) bool { work, ok := s.(sequence.Tighten); return ok && work.Pass == 2 })
	c.do(sequence.ProblemFound{Bolt: 1, What: sequence.Broke, Batch: "H-441"}, sequence.Released{Of: sequence.OfProblem, Bolt: 1, Named: engineer})
	left := func(s sequence.Step) bool { r, ok := s.(sequence.Release); return ok && r.Bolt == 1 }
	c.until(left)
	c.do(sequence.Released{Of: sequence.OfBolt, Bolt: 1, Named: engineer})
	c.until(left)
	c.do(sequence.Replaced{Bolt: 1, Batch: "H-460"})
	d := c.done()
	if last := d.Turns[len(d.Turns)-1]; last.Result != report.ResultNewParts || last.Tool.ID != "W-01" {
		t.Errorf("%+v", last)
	}
	if text := strings.Join(pages(t, recorded(t, d)), " "); holds(text, "in place of those of the plan") {
		t.Error(text)
	}
}

// TestDaysOfBolts: a date stands at the first bolt of each day, and none where all were
// done on one.
func TestDaysOfBolts(t *testing.T) {
	dated := regexp.MustCompile(`\d{4}-\d\d-\d\d`)
	each := func(d report.AsDone) string {
		_, text, _ := strings.Cut(squeezed(strings.Join(pages(t, recorded(t, d)), " ")), squeezed("EACH BOLT"))
		text, _, _ = strings.Cut(text, squeezed("ALL OTHER EVENTS"))
		return text
	}
	second := func(s sequence.Step) bool { s2, ok := s.(sequence.Tighten); return ok && s2.Pass == 2 }
	c := begin(t, load(t, file(t, drain)))
	c.until(second)
	c.toTheEnd()
	if got := dated.FindAllString(each(c.done()), -1); len(got) != 0 {
		t.Errorf("one day: %q", got)
	}
	c = begin(t, load(t, file(t, drain)))
	c.until(second)
	was := c.at
	c.at = c.at.Add(24 * time.Hour)
	c.toTheEnd()
	want := []string{was.Format(time.DateOnly), c.at.Format(time.DateOnly)}
	if got := dated.FindAllString(each(c.done()), -1); !slices.Equal(got, want) {
		t.Errorf("two days: %q, want %q", got, want)
	}
}

// TestStopOnPaper: an answer that stopped the work and the permit after it stand among
// the deviations.
func TestStopOnPaper(t *testing.T) {
	c := begin(t, load(t, file(t, drain)))
	c.until(func(s sequence.Step) bool { a, ok := s.(sequence.Ask); return ok && a.Question.ID == "4" })
	c.do(sequence.Answered{Question: "4", Answer: sequence.No}, sequence.SignedOn{Name: "Ann", Permit: "P-3399"})
	_, text, _ := strings.Cut(squeezed(strings.Join(pages(t, recorded(t, c.done())), " ")), squeezed("DEVIATIONS, RELEASES"))
	text, _, _ = strings.Cut(text, squeezed("EACH BOLT"))
	for _, want := range []string{"WORK STOPPED: no: Is the joint cold", "signed on, permit P-3399"} {
		if !strings.Contains(text, squeezed(want)) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}
