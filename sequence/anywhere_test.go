package sequence

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// bringUp sets and tightens a new bolt at each pass that it repeats.
func (s *site) bringUp(b Bolt) *site {
	s.t.Helper()
	for range 20 {
		switch n := s.w.Next(s.at).(type) {
		case Set:
			if n.Redo != b {
				return s
			}
			s.set()
		case Tighten:
			if n.Redo != b {
				return s
			}
			s.do(BoltDone{n.Pass, n.Bolts})
		default:
			return s
		}
	}
	s.t.Fatalf("bolt %d is brought up for ever", b)
	return s
}

// A stud that was tightened before can break when another bolt is at hand: the work is
// held, it gets new parts first, is brought up, and has its turn in this pass once more.
func TestOtherBoltBreaksInAPass(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 2)) // bolts 1 and 3 are done, 2 is next
	s.refuses(ProblemFound{Bolt: 5, What: Broke}, "the bolts are 1 to 4").refuses(ProblemFound{Bolt: 1, What: NoStall}, "bolt 2 is next")
	s.do(ProblemFound{Bolt: 1, What: Broke, Batch: "O"}).wants("release problem 1")
	if b := s.w.Last(4); len(b) != 1 || b[0][0] != 3 {
		t.Errorf("marked are %v, want bolt 3 alone", b)
	}
	s.do(Released{Of: OfProblem, Bolt: 1, Named: eva}).wants("release bolt 1").do(Replaced{Bolt: 1, Batch: "N"}).wants("set 1 bolt 1")
	s.bringUp(1).wants("set 2 bolt 0").set().wants("pass 2 bolt 1").do(BoltDone{2, []Bolt{1}}).wants("pass 2 bolt 2")
	s.refuses(Undone{Bolt: 3}, "only it can be taken back").do(Undone{Bolt: 1}).wants("pass 2 bolt 1")
	if all := strings.Join(s.w.Exceptions(), "; "); !strings.Contains(all, "bolt 1 stud broke in the pass at 100 %") {
		t.Errorf("kept is %s", all)
	}
}

// Found before the end reading, it is put right before the pass ends.
func TestBoltOutBeforeTheEndReading(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), func(s Step) bool { n, is := s.(Set); return is && n.AtEnd })
	s.do(ProblemFound{Bolt: 3, What: Seized}).wants("release bolt 3").do(Replaced{Bolt: 3, Batch: "N"}).wants("pass 1 bolt 3")
	s.do(BoltDone{1, []Bolt{3}}).wants("set 1 bolt 0")
	s.refuses(ProblemFound{Bolt: 3, What: NoStall}, "no bolt is at hand").refuses(ProblemFound{Bolt: 3, What: WrongBolt}, "no bolt is at hand")
}

// At gaps after a pass the joint has lost load: held, and new parts come before the next
// pass goes on.
func TestBoltOutAtGaps(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), func(s Step) bool { g, is := s.(GapCheck); return is && !g.All })
	s.do(ProblemFound{Bolt: 2, What: Seized}).wants("release problem 2").refuses(GapsMeasured{[]Gap{{1, 0.001}, {2, 0.001}}}, "not now")
	if words := strings.Join(s.w.OwedWords(), "; "); words != "bolt 2 is out: replace stud and nuts, again at 50 %, then 100 % in its turn" {
		t.Errorf("owed: %s", words)
	}
	s.do(Released{Of: OfProblem, Bolt: 2, Named: eva}, GapsMeasured{[]Gap{{1, 0.001}, {2, 0.001}}}).wants("release bolt 2")
	s.do(Replaced{Bolt: 2, Batch: "N"}).wants("set 1 bolt 2").bringUp(2).wants("set 2 bolt 0").set().wants("pass 2 bolt 1")
	if all := strings.Join(s.w.Exceptions(), "; "); !strings.Contains(all, "bolt 2 seized or galled at the gaps after pass at 50 %") {
		t.Errorf("kept is %s", all)
	}
}

// In the rest: check rounds are owed again, and the whole rest after them.
func TestBoltOutInTheRest(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, time.Hour)
	s := siteAt(t, plan, is[Rest])
	until := s.w.Next(s.at).(Rest).Until
	s.do(ProblemFound{Bolt: 4, What: Broke, Reason: "a bang"}).wants("release problem 4").refuses(RestOver{}, "not now")
	s.do(Released{Of: OfProblem, Bolt: 4, Named: eva}, Replaced{Bolt: 4, Batch: "N"}).bringUp(4).wants("set 2 bolt 0").set()
	if sets := s.w.RoundSets(); len(sets) < 2 || !slices.Contains(sets, "for bolt 4, which went out") {
		t.Errorf("rounds are made %q", sets)
	}
	for b := Bolt(1); b <= 4; b++ {
		s.do(NutStill{1, b})
	}
	s.set()
	if rest, is := s.w.Next(s.at).(Rest); !is || rest.Over || !rest.Until.After(until) {
		t.Errorf("after the new stud comes %+v, the first rest was until %s", s.w.Next(s.at), until)
	}
}

// The gasket holds the work in the rest too, and the rest goes on behind it.
func TestGasketInTheRest(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, time.Hour), is[Rest])
	until := s.w.Next(s.at).(Rest).Until
	s.do(ProblemFound{Bolt: 1, What: GasketOut}).wants("release problem 1").refuses(RestWaived{eva}, "not now")
	s.do(Released{Of: OfProblem, Bolt: 1, Named: eva})
	if rest, is := s.w.Next(s.at).(Rest); !is || !rest.Until.Equal(until) {
		t.Errorf("next is %+v", s.w.Next(s.at))
	}
}

// Behind the rest: rounds again, no second rest, and every stud is measured again.
func TestBoltOutAtStudsAndLastGaps(t *testing.T) {
	for name, at := range map[string]func(Step) bool{"studs": is[Stretch], "gaps": func(s Step) bool { g, is := s.(GapCheck); return is && g.After == "check rounds" }} {
		s := siteAt(t, finishPlan(t, 3, 1, time.Hour), at)
		if n, is := s.w.Next(s.at).(Stretch); is {
			s.do(s.w.StretchOf(n.Bolt, n.Expected))
		}
		s.do(ProblemFound{Bolt: 1, What: Broke}, Released{Of: OfProblem, Bolt: 1, Named: eva}, Replaced{Bolt: 1, Batch: "N"})
		for {
			if a, is := s.w.Next(s.at).(Ask); is { // the length of the new stud
				s.do(Answered{Question: a.Question.ID, Answer: Yes, Told: tell(a.Question)})
				continue
			}
			break
		}
		s.bringUp(1).set()
		for b := Bolt(1); b <= 3; b++ {
			s.do(NutStill{1, b})
		}
		if n, is := s.set().w.Next(s.at).(Stretch); !is || n.Bolt != 1 {
			t.Errorf("at %s: next is %+v, want the first stud", name, s.w.Next(s.at))
		}
	}
}

// A second stud while a new one is brought up: the first is brought up to its end, then
// comes the other.
func TestOtherBoltBreaksWhileOneIsBroughtUp(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 3, 2, 0), inPass(3, 1))
	s.do(ProblemFound{Bolt: 3, What: Seized}, Released{Of: OfProblem, Bolt: 3, Named: eva}, Replaced{Bolt: 3, Batch: "N-1"}).set().wants("pass 1 bolt 3")
	s.do(ProblemFound{Bolt: 1, What: Broke}).wants("release problem 1").do(Released{Of: OfProblem, Bolt: 1, Named: eva}).wants("pass 1 bolt 3")
	s.refuses(ProblemFound{Bolt: 1, What: Broke}, "bolt 1 is out already").refuses(Replaced{Bolt: 1, Batch: "N-2"}, "finish it first")
	s.bringUp(3).wants("release bolt 1").do(Replaced{Bolt: 1, Batch: "N-2"}).bringUp(1).wants("set 3 bolt 0").set().wants("pass 3 bolt 1")
}

// Before closing: rounds, questions and hold points come again, and the leak test.
func TestBoltOutBeforeClosing(t *testing.T) {
	plan := finishPlan(t, 3, 1, 0)
	plan.Stretch = nil
	plan.Hold = []Hold{{Name: "before close", At: HoldBeforeClose}}
	for name, at := range map[string]func(Step) bool{"question": func(s Step) bool { a, is := s.(Ask); return is && a.Question.ID == "tag" }, "close": is[Close]} {
		s := siteAt(t, plan, at)
		s.do(ProblemFound{Bolt: 2, What: Unfit, Reason: "short"})
		for { // the tool was off, and pressure may have been on: the whole gate again
			a, is := s.w.Next(s.at).(Ask)
			if !is {
				break
			}
			s.do(yes(s.w, a))
		}
		s.do(Released{Of: OfProblem, Bolt: 2, Named: eva}, Replaced{Bolt: 2, Batch: "N"}).bringUp(2).wants("set 1 bolt 0").set()
		for b := Bolt(1); b <= 3; b++ {
			s.do(NutStill{1, b})
		}
		s.set().do(GapsMeasured{[]Gap{{1, 0.001}, {2, 0.001}}})
		for _, id := range []string{"air", engagementQuestion, "tag"} {
			if a, is := s.w.Next(s.at).(Ask); !is || a.Question.ID != id {
				t.Fatalf("%s: next is %+v, want question %s again", name, s.w.Next(s.at), id)
			}
			s.do(Answered{Question: id, Answer: Yes})
		}
		s.wants("release hold 0").do(Released{Of: OfHold, Hold: "before close", Named: eva}).wants("the result of the leak test")
	}
}

// What is found while a problem holds the work is told before anybody decides, and each
// is decided about.
func TestSecondBoltOutWhileHeld(t *testing.T) {
	s := siteAt(t, testPlan(t, 4, 2, 2, 0), inPass(2, 2))
	s.do(ProblemFound{Bolt: 1, What: Broke}).wants("release problem 1").do(ProblemFound{Bolt: 3, What: Broke}).wants("release problem 3")
	if words := strings.Join(s.w.ReleaseWords(s.w.Next(s.at).(Release)), " "); !strings.Contains(words, "Bolt 1 is out already") {
		t.Errorf("what is held for: %s", words)
	}
	s.do(ProblemFound{Bolt: 2, What: GasketOut}).wants("release problem 2").do(ProblemFound{Bolt: 4, What: Broke}).wants("release problem 4")
	for _, b := range []Bolt{4, 2, 3, 1} {
		s.do(Released{Of: OfProblem, Bolt: b, Named: eva})
	}
	s.wants("release bolt 1")
}

// A bolt that is out, and that a named person lets the work go on without, has no nut that
// makes a round go round again; by older rules it had.
func TestRoundWithoutABolt(t *testing.T) {
	for rules, want := range map[int]string{3: "round 3 bolt 2", RulesNow: "set 1 bolt 0"} {
		plan := testPlan(t, 4, 1, 4, 0)
		plan.Rules = rules
		s := siteAt(t, plan, is[Check])
		s.do(ProblemFound{Bolt: 1, What: Broke}, Released{Of: OfProblem, Bolt: 1, Named: eva}, Released{Of: OfBolt, Bolt: 1, Named: eva},
			NutStill{1, 2}, NutStill{1, 3}, NutStill{1, 4})
		if r, is := s.w.Next(s.at).(Release); is { // asked again in every round
			s.do(Released{Of: r.Of, Bolt: 1, Named: eva})
		}
		s.wants("round 2 bolt 2").do(NutStill{2, 2}, NutStill{2, 3}, NutStill{2, 4}) // it broke in the round before
		if r, is := s.w.Next(s.at).(Release); is {
			s.do(Released{Of: r.Of, Bolt: 1, Named: eva})
		}
		if s.wants(want); rules < RulesNow {
			continue
		}
		if words := s.w.NoStudWords(); len(words) != 1 || !strings.Contains(words[0], "BOLT 1") {
			t.Errorf("what has no stud: %q", words)
		}
		if text := s.w.QuestionText(engagementQuestion); !strings.Contains(text, "bolt 1 NO good stud") {
			t.Errorf("the question is %q", text)
		}
	}
}

// Once the joint is closed, what can be seen no more is passed over with a reason; before,
// never.
func TestPassedOverWhenClosed(t *testing.T) {
	plan := testPlan(t, 4, 2, 2, 0)
	s := siteAt(t, plan, func(s Step) bool { a, is := s.(Ask); return is && a.Question.ID == "7" })
	s.refuses(Answered{Question: "7", Answer: NotApplicable, Reason: "closed"}, "always applies")
	s = siteAt(t, plan, inPass(2, 1))
	s.do(ProblemFound{What: OtherHazard, Reason: "alarm"}, SignedOn{Name: "A", Permit: "P-2"})
	for {
		a, is := s.w.Next(s.at).(Ask)
		if !is || a.Question.ID == "7" {
			break
		}
		s.do(Answered{Question: a.Question.ID, Answer: Yes, Typed: a.Question.Typed, Told: tell(a.Question)})
	}
	s.do(Answered{Question: "7", Answer: NotApplicable, Reason: "the joint is closed"})
}

// What was low is named where the pass is set again.
func TestLowIsNamed(t *testing.T) {
	s := siteAt(t, teamPlan(t, 2, 4, 2, 1, 0), func(s Step) bool { n, is := s.(Set); return is && n.AtEnd && n.Slot == 1 })
	n := s.w.Next(s.at).(Set)
	s.do(PressureSet{AtEnd: true, Tool: 1, Running: n.Least - 0.3e5, Sure: true})
	if text := s.w.Next(s.at).(Set).RepeatWord(); !strings.Contains(text, "Low was: tool B, ") || !strings.Contains(text, n.Tool.Band(n.Setting)) {
		t.Errorf("it says %q", text)
	}
	if words := s.set().set().w.Next(s.at).(Tighten).RepeatWord(); strings.Contains(words, "Low was") {
		t.Errorf("at the bolts it says %q", words)
	}
}

// One hand wrench goes across, also where four tools go round together.
func TestSnugGoesAcross(t *testing.T) {
	s := siteAt(t, teamPlan(t, 4, 8, 2, 1, 0), is[Snug])
	if order := BoltList(s.w.Next(s.at).(Snug).Order); order != "1, 5, 3, 7, 2, 6, 4, 8" {
		t.Errorf("snug goes %s", order)
	}
}

// yes answers a question so, an alignment as one within its limits.
func yes(w Walk, a Ask) Answered {
	if a.Question.Measured {
		return w.Aligned(a.Question, Alignment{})
	}
	return Answered{Question: a.Question.ID, Answer: Yes, Typed: a.Question.Typed, Told: tell(a.Question)}
}

// A joint that leaked at its test is worked on by another card; with a new gasket the
// questions of the end do not stand in its gate; the parts of a bolt that was let go
// without may come before closing.
func TestAtTheEnd(t *testing.T) {
	plan := finishPlan(t, 3, 1, 0)
	plan.Stretch = nil
	s := siteAt(t, plan, is[LeakTest]).do(LeakTested{Result: Leaked, Bolts: []Bolt{2}}).wants("closing")
	s.refuses(ProblemFound{Bolt: 1, What: Broke}, "not now").refuses(ProblemFound{Bolt: 1, What: GasketOut}, "not now")

	s = siteAt(t, plan, func(s Step) bool { a, is := s.(Ask); return is && a.Question.ID == "tag" })
	s.do(ProblemFound{Bolt: 1, What: GasketOut}, Released{Of: OfProblem, Bolt: 1, Restart: true, Named: eva})
	for {
		a, is := s.w.Next(s.at).(Ask)
		if !is {
			break
		}
		if a.Question.When != AtGate {
			t.Fatalf("with a new gasket the gate asks %q", a.Question.Text)
		}
		s.do(yes(s.w, a))
	}
	s.wants("snug by hand")

	plan = testPlan(t, 4, 1, 2, 0)
	s = siteAt(t, plan, inPass(1, 2))
	s.do(ProblemFound{Bolt: 1, What: Unfit})
	for {
		if _, is := s.w.Next(s.at).(Close); is {
			break
		}
		switch n := s.w.Next(s.at).(type) {
		case Set:
			s.set()
		case Tighten:
			s.do(BoltDone{n.Pass, n.Bolts})
		case Check:
			s.do(NutStill{n.Round, n.Bolt})
		case GapCheck:
			var all []Gap
			for _, b := range n.Places {
				all = append(all, Gap{b, 0.001})
			}
			s.do(GapsMeasured{all})
		case Release:
			s.do(Released{Of: n.Of, Bolt: n.Bolt, Named: eva})
		case Ask:
			s.do(yes(s.w, n))
		}
	}
	s.do(Replaced{Bolt: 1, Batch: "N"})
	for {
		a, is := s.w.Next(s.at).(Ask)
		if !is {
			break
		}
		s.do(yes(s.w, a))
	}
	s.wants("set 1 bolt 1").bringUp(1).wants("set 1 bolt 0")
}
