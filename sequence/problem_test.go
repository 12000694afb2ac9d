package sequence

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// site is a walk with a clock, for a test.
type site struct {
	t  *testing.T
	w  Walk
	at time.Time
}

func siteAt(t *testing.T, plan *Plan, until func(Step) bool) *site {
	w, when := stage(t, plan, until)
	return &site{t, w, when}
}

func (s *site) do(all ...Data) *site {
	s.t.Helper()
	for _, d := range all {
		s.at = s.at.Add(time.Minute)
		next, err := s.w.Apply(Event{At: s.at, By: "A", Data: d})
		if err != nil {
			s.t.Fatalf("%#v: %v", d, err)
		}
		s.w = next
	}
	return s
}

// says is the next step in short.
func (s *site) says() string {
	switch n := s.w.Next(s.at).(type) {
	case Set:
		return fmt.Sprintf("set %d bolt %d", n.Pass, n.Redo)
	case Tighten:
		return fmt.Sprintf("pass %d bolt %d", n.Pass, n.Bolts[0])
	case Check:
		return fmt.Sprintf("round %d bolt %d", n.Round, n.Bolt)
	case Release:
		return fmt.Sprintf("release %s %d", n.Of, n.Bolt)
	default:
		return stepName(n)
	}
}

func (s *site) wants(want string) *site {
	s.t.Helper()
	if got := s.says(); got != want {
		s.t.Fatalf("next is %s, want %s", got, want)
	}
	return s
}

func (s *site) refuses(d Data, want string) *site {
	s.t.Helper()
	if _, err := s.w.Apply(Event{At: s.at, By: "A", Data: d}); err == nil || !strings.Contains(err.Error(), want) {
		s.t.Fatalf("%#v: %v, want one that says %q", d, err, want)
	}
	return s
}

// set sets the pressure that is asked for.
func (s *site) set() *site {
	s.t.Helper()
	n, ok := s.w.Next(s.at).(Set)
	if !ok {
		s.t.Fatalf("next is %s, no setting", s.says())
	}
	return s.do(PressureSet{AtEnd: n.AtEnd, Tool: n.Slot, Running: n.Set})
}

func inPass(pass, done int) func(Step) bool {
	return func(s Step) bool { t, ok := s.(Tighten); return ok && t.Pass == pass && t.Done == done }
}

var eva = Named{Name: "Eva", Role: "engineer", Reason: "looked at"}

// A bolt that is replaced in the second pass is brought up alone, and then has
// its turn; the work was held before, since the joint lost load.
func TestNewBoltRepeatsThePassesDone(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 3, 2, 0), inPass(3, 1)) // bolt 3 of 1, 3, 2, 4
	s.do(ProblemFound{Bolt: 3, What: Seized, Batch: "O-1"}).wants("release problem 3")
	s.refuses(Replaced{Bolt: 3, Batch: "N-1"}, "not now").refuses(Undone{Bolt: 1}, "held")
	if words := strings.Join(s.w.OwedWords(), "; "); words != "bolt 3 is out: replace stud and nuts, again at 33.3 %, 66.7 %, then 100 % in its turn" {
		t.Errorf("owed: %s", words)
	}
	s.refuses(Released{Of: OfProblem, Bolt: 3, Named: Named{Name: "a", Role: "engineer", Reason: "mine"}}, "other than the operator")
	s.do(Released{Of: OfProblem, Bolt: 3, Named: eva}).wants("release bolt 3").refuses(BoltDone{3, []Bolt{2}}, "not now").refuses(Replaced{Bolt: 3}, "batch").refuses(Replaced{Bolt: 2, Batch: "N"}, "not out")
	s.refuses(Undone{Bolt: 3}, "was marked last")
	s.do(Replaced{Bolt: 3, Batch: "N-1"}).wants("set 1 bolt 3")
	s.refuses(BoltDone{3, []Bolt{2}}, "setting the pressure")
	s.set().wants("pass 1 bolt 3").do(BoltDone{1, []Bolt{3}}).wants("set 2 bolt 3")
	s.do(Undone{Bolt: 3}).wants("set 1 bolt 3").set().do(BoltDone{1, []Bolt{3}}).set()
	s.refuses(ProblemFound{Bolt: 3, What: NoStall}, "brought up").do(ProblemFound{Bolt: 3, What: NoStall, Now: true}).wants("pass 2 bolt 3")
	if words := strings.Join(s.w.OwedWords(), "; "); words != "bolt 3: again at 66.7 %, then 100 % in its turn" {
		t.Errorf("owed: %s", words)
	}
	s.do(BoltDone{2, []Bolt{3}}).wants("set 3 bolt 0").set().wants("pass 3 bolt 3")
}

// In a check round every pass is repeated, and a whole round over all bolts
// follows, the first of its series.
func TestNewBoltInACheckRound(t *testing.T) {
	s := siteAt(t, testPlan(t, 3, 2, 2, 0), is[Check])
	s.do(NutMoved{1, 1}, NutStill{1, 2}, NutStill{1, 3}).wants("round 2 bolt 1").do(NutStill{2, 1})
	s.do(ProblemFound{Bolt: 2, What: Broke, Reason: "bang"}, Released{Of: OfProblem, Bolt: 2, Named: eva}).wants("release bolt 2")
	s.do(Replaced{Bolt: 2, Batch: "N"}).wants("set 1 bolt 2")
	s.set().do(BoltDone{1, []Bolt{2}}).set().do(BoltDone{2, []Bolt{2}}).wants("set 2 bolt 0").set().wants("round 1 bolt 1")
	if len(s.w.OwedWords()) != 0 {
		t.Errorf("owed: %v", s.w.OwedWords())
	}
}

// In the first pass one bolt may be out; a second one holds the work, and a
// new gasket begins it at the gate again.
func TestSecondBoltOut(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 0))
	s.do(ProblemFound{Bolt: 1, What: Seized}).wants("pass 1 bolt 3").do(ProblemFound{Bolt: 3, What: Seized}).wants("release problem 3")
	words := strings.Join(s.w.ReleaseWords(s.w.Next(s.at).(Release)), " ")
	if !strings.Contains(words, "Bolt 1 is out already") || !strings.Contains(words, NewGasketWord) {
		t.Errorf("held with %q", words)
	}
	s.refuses(Released{Of: OfBolt, Bolt: 1, Named: eva}, "not now")
	s.do(Released{Of: OfProblem, Bolt: 3, Restart: true, Named: eva})
	if a, ok := s.w.Next(s.at).(Ask); !ok || a.Question.ID != "1" || len(s.w.Out()) != 0 {
		t.Errorf("after a new start next is %s, out %v", s.says(), s.w.Out())
	}
	one := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 0)).do(ProblemFound{Bolt: 1, What: Seized}, Replaced{Bolt: 1, Batch: "N"})
	one.wants("pass 1 bolt 1").refuses(Released{Of: OfProblem, Bolt: 1, Named: eva}, "not now")
}

func TestMissedAndWrongBolts(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2)) // next is 2 of 1, 3, 2, 4
	s.refuses(ProblemFound{Bolt: 4, What: Missed}, "still comes").refuses(ProblemFound{Bolt: 2, What: WrongBolt}, "in order").refuses(ProblemFound{Bolt: 9, What: Missed}, "no bolt 9")
	s.refuses(ProblemFound{Bolt: 3, What: WrongBolt}, "already").refuses(ProblemFound{Bolt: 4, What: Missed, Now: true}, "put right")
	s.do(ProblemFound{Bolt: 1, What: Missed}).wants("pass 1 bolt 1").do(BoltDone{1, []Bolt{1}}, ProblemFound{Bolt: 4, What: WrongBolt}, BoltDone{1, []Bolt{2}}).wants("set 1 bolt 0")
	if e := strings.Join(s.w.Exceptions(), "; "); e != "missed an earlier bolt: bolt 1 in the pass at 50 %; wrong bolt was tightened: bolt 4 in the pass at 50 %" {
		t.Errorf("exceptions: %s", e)
	}
}

// A wrong pressure holds the work; what is at risk is every bolt since the
// pressure was last good, and their loads are those of the joint.
func TestWrongPressure(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, 0)
	s := siteAt(t, plan, inPass(2, 1))
	high := plan.Passes[1].Settings[0].Most + 0.5e5
	s.refuses(ProblemFound{Bolt: 3, What: WrongPressure}, "needed").refuses(ProblemFound{Bolt: 3, What: WrongPressure, Read: plan.Passes[1].Settings[0].Set}, "not wrong")
	gone := *s
	gone.do(ProblemFound{Bolt: 3, What: WrongPressure, Read: 0.1e5}) // the air fails
	if r, ok := gone.w.Next(gone.at).(Release); !ok || r.Of != OfProblem || gone.w.isSet() || !slices.Contains(gone.w.ReleaseWords(r), StallsLow) {
		t.Errorf("after hardly any pressure was found comes %#v", gone.w.Next(gone.at))
	}
	s.do(BoltDone{2, []Bolt{3}}, ProblemFound{Bolt: 2, What: WrongPressure, Read: high})
	words := strings.Join(s.w.ReleaseWords(s.w.Next(s.at).(Release)), " ")
	// 4.1 bar is 360 N·m on this chart; 30 % above nominal by friction where nothing is known.
	for _, want := range []string{"bolts 1, 3.", "360 N·m", "yield and what the gasket bears are not known", "Neither repeat nor slacken"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not said: %s", want, words)
		}
	}
	s.do(Released{Of: OfProblem, Bolt: 2, Named: eva}).wants("set 2 bolt 0").set().wants("pass 2 bolt 2")
	if r := s.w.Risk(0, high); len(r.Bolts) != 0 {
		t.Errorf("at risk after a good setting: %v", r.Bolts)
	}
	if r := s.w.Risk(0, 9e5); r.Torque != 0 || r.HighLoad != 0 {
		t.Errorf("beyond the chart: %+v", r)
	}
}

// The same numbers as the joint gives: yield and crush of the high load.
func TestRiskOfAStrongJoint(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, 0)
	plan.Strength = &joint.Strength{PerTorque: 300, Friction: 0.25, Yield: 150e3, Crush: 300e3}
	s := siteAt(t, plan, inPass(2, 1))
	tool, setting := plan.Tools[0], plan.Passes[1].Settings[0]
	tool.Accuracy, plan.Tools[0].Accuracy = 0.04, 0.04
	setting.Set, setting.Delivered = 4e5, 350
	r := s.w.Risk(0, 4e5)
	if want := plan.Strength.HighLoad(tool, setting); r.HighLoad != want || r.Yield != unit.Share(want/150e3) || r.Crush != unit.Share(want/300e3) || want < 350*300*1.25 {
		t.Errorf("%+v, want a high load of %v", r, want)
	}
	if words := strings.Join(s.w.RiskWords(0, 4e5), " "); !strings.Contains(words, "of yield, and") {
		t.Error(words)
	}
}

// Each problem of the list is taken at a bolt, does what its row says, and is
// told in the exceptions or holds a bolt.
func TestTroublesOfTheList(t *testing.T) {
	keys := map[string]bool{}
	for _, tr := range Troubles {
		if keys[tr.Key] || tr.First == "" || tr.Needs == "" || tr.Rule == "" || strings.Contains("bqpunthsr?", tr.Key) {
			t.Errorf("%s: key %q, or a sentence is missing", tr.Name, tr.Key)
		}
		keys[tr.Key] = true
		if got, ok := TroubleOf(tr.What); !ok || got.Name != tr.Name {
			t.Errorf("%s is not found", tr.What)
		}
		s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2))
		d := ProblemFound{Bolt: 2, What: tr.What, Reason: "seen"}
		want := map[follows]string{leaves: "pass 1 bolt 4", takes: "pass 1 bolt 4", opens: "pass 1 bolt 1", marks: "pass 1 bolt 2", holds: "release problem 2", stops: "nothing, the work is stopped"}[tr.follows]
		switch {
		case tr.What == Missed:
			d.Bolt = 1
		case tr.What == WrongBolt:
			d.Bolt = 4
		case tr.What == WrongPressure:
			d.Read = 1.5e5
		case tr.What == Broke:
			want = "release problem 2"
		case tr.Stops():
			d.Bolt = 0
		}
		s.do(d).wants(want)
		if len(s.w.Exceptions()) == 0 && len(s.w.LeftBolts()) == 0 && !tr.Stops() {
			t.Errorf("%s: nothing is kept of it", tr.Name)
		}
	}
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(1, 2))
	s.refuses(ProblemFound{Bolt: 2, What: "leprosy", Reason: "x"}, "no problem that this version knows").refuses(ProblemFound{Bolt: 2, What: OtherTrouble}, "in a word").
		refuses(ProblemFound{What: Seized, Reason: "x"}, "at which bolt").refuses(ProblemFound{What: Injury}, "in a word").refuses(ProblemFound{Bolt: 4, What: NoStall}, "bolt 2 is next")
	s.do(ProblemFound{Bolt: 2, What: NoStall}).do(BoltDone{1, []Bolt{4}}).wants("release bolt 2")
	if !slices.Equal(s.w.LeftBolts(), []Bolt{2}) {
		t.Errorf("left: %v", s.w.LeftBolts())
	}
	s.do(Undone{Bolt: 2}).wants("pass 1 bolt 2")
}

// Events and plans of cards that know none of this read as they did, and are
// written as they were.
func TestOldCards(t *testing.T) {
	for text, want := range map[string]Data{
		`{"bolt":3,"reason":"seized"}`: ProblemFound{Bolt: 3, Reason: "seized"},
		`{"reason":"a leak"}`:          ProblemFound{Reason: "a leak"},
		`{"of":"bolt","bolt":3,"name":"Eva","role":"engineer","reason":"looked at"}`: Released{Of: OfBolt, Bolt: 3, Named: eva},
	} {
		got, err := DecodeData(want.Kind(), []byte(text))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s reads as %#v: %v", text, got, err)
		}
		if again, err := json.Marshal(want); err != nil || string(again) != text {
			t.Errorf("%s is written as %s: %v", text, again, err)
		}
	}
	plan := testPlan(t, 4, 2, 2, 0)
	plan.Spare, plan.ReadBack, plan.Strength = nil, 0, nil
	text, err := json.Marshal(plan)
	if err != nil || strings.Contains(string(text), "spare") || strings.Contains(string(text), "read_back\"") || strings.Contains(string(text), "strength") {
		t.Errorf("an old plan is written as %s: %v", text, err)
	}
	s := siteAt(t, plan, inPass(2, 2))
	s.do(ProblemFound{Bolt: 2, Reason: "dry"}).wants("pass 2 bolt 4").do(Undone{Bolt: 2}).wants("pass 2 bolt 2")
	spare := testPlan(t, 4, 2, 2, 0).Spare[0]
	d, err := s.w.ToolChange(0, spare, joint.DateOf(s.at))
	if d.Reason = "no air"; err != nil || len(s.w.OtherTools()) != 0 {
		t.Fatalf("%v, other tools %v", err, s.w.OtherTools())
	}
	s.do(d)
	if r := s.w.Risk(0, 4e5); r.HighLoad != 0 || r.Torque == 0 {
		t.Errorf("without a strength the risk is %+v", r)
	}
}

// A round that was not still because a bolt could not be checked says so: no nut of it moved.
func TestRoundsUsedUpSayWhy(t *testing.T) {
	for _, c := range []struct {
		last       []Data
		want, not  string
		exceptions string
	}{
		{[]Data{NutMoved{Round: 1, Bolt: 4}}, "Nuts still moved in check round 1, the last one planned. Moved: bolt 4.", "Not checked", "nuts still moved in check round 1, released by Eva: looked at"},
		{[]Data{ProblemFound{Bolt: 4, Reason: "no room"}, Released{Of: OfBolt, Bolt: 4, Named: eva}}, "Not checked in check round 1, the last one planned: bolt 4.", "moved", "bolt 4 not checked in check round 1, released by Eva: looked at"},
	} {
		s := siteAt(t, testPlan(t, 4, 1, 1, 0), func(s Step) bool { c, ok := s.(Check); return ok && c.Bolt == 4 })
		s.do(c.last...)
		s.do(PressureSet{AtEnd: true, Running: s.w.Next(s.at).(Set).Set})
		text := strings.Join(s.w.ReleaseWords(s.w.Next(s.at).(Release)), " ")
		if !strings.Contains(text, c.want) || strings.Contains(text, c.not) {
			t.Errorf("told is %q", text)
		}
		s.do(Released{Of: OfRounds, Named: eva})
		if got := s.w.Exceptions(); got[len(got)-1] != c.exceptions {
			t.Errorf("kept is %q", got)
		}
	}
}

// A tool changed while a new bolt is brought up begins the whole pass again, and that is
// what is kept.
func TestWhatWasBegunAgainIsKept(t *testing.T) {
	for word, goOn := range map[string]*Named{"the pass at 100 % was begun again": nil, "the pass at 100 % went on": &eva} {
		s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 2))
		b := s.w.Next(s.at).(Tighten).Bolts[0]
		s.do(ProblemFound{Bolt: b, What: Seized}, Released{Of: OfProblem, Bolt: b, Named: eva}, Replaced{Bolt: b, Batch: "N"}).set()
		s.do(s.spare(func(d *ToolChanged) { d.GoOn = goOn }))
		if all := strings.Join(s.w.Exceptions(), "; "); !strings.Contains(all, word) {
			t.Errorf("%q is not kept: %s", word, all)
		}
	}
}

// A bolt that was released and then taken back is not left as released only.
func TestReleaseThatIsTakenBack(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), func(s Step) bool { b, ok := s.(Tighten); return ok && b.Done == 3 })
	b := s.w.Next(s.at).(Tighten).Bolts[0]
	s.do(ProblemFound{Bolt: b, Reason: "dry"}, Released{Of: OfBolt, Bolt: b, Named: eva})
	released := s.w.Exceptions()
	s.do(Undone{Bolt: b}, BoltDone{1, []Bolt{b}})
	if all := s.w.Exceptions(); len(all) != len(released)+1 || !strings.Contains(all[len(all)-1], fmt.Sprintf("at bolt %d was taken back", b)) {
		t.Errorf("kept is %q", all)
	}
}

// With a new gasket the gaps of the old one are no measurement before.
func TestNewGasketHasNoGapsBefore(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 1))
	b := s.w.Next(s.at).(Tighten).Bolts[0]
	s.do(ProblemFound{Bolt: b, What: GasketOut}, Released{Of: OfProblem, Bolt: b, Restart: true, Named: eva})
	for {
		if a, ok := s.w.Next(s.at).(Ask); ok {
			s.do(Answered{Question: a.Question.ID, Answer: Yes, Typed: a.Question.Typed, Told: tell(a.Question)})
			continue
		}
		break
	}
	s.do(Snugged{})
	if g, ok := s.w.Next(s.at).(GapCheck); !ok || g.Before >= 0 || len(g.Was) > 0 {
		t.Errorf("with a new gasket comes %+v", s.w.Next(s.at))
	}
}
