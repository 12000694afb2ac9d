package sequence

import (
	"testing"
	"time"
)

func BenchmarkPlan32(b *testing.B) {
	for b.Loop() {
		testPlan(b, 32, 4, 4, time.Hour)
	}
}

// halfway is a walk of 32 bolts in the middle of its first pass, and the event
// that it takes next.
func halfway(b *testing.B) (Walk, Event) {
	w, err := New(testPlan(b, 32, 4, 4, time.Hour))
	if err != nil {
		b.Fatal(err)
	}
	at := start
	for {
		at = at.Add(10 * time.Second)
		e := Event{At: at, By: "A"}
		switch s := w.Next(at).(type) {
		case SignOn:
			e.Data = SignedOn{Name: "A"}
		case Ask:
			e.Data = Answered{Question: s.Question.ID, Answer: Yes, Typed: s.Question.Typed, Told: tell(s.Question)}
		case Snug:
			e.Data = Snugged{}
		case GapCheck:
			e.Data = GapsMeasured{[]Gap{{s.Places[0], 0.001}, {s.Places[1], 0.001}}}
		case Set:
			e.Data = PressureSet{Running: s.Set}
		case Tighten:
			e.Data = BoltDone{Pass: s.Pass, Bolts: s.Bolts}
			if s.Left == 16 {
				return w, e
			}
		}
		if w, err = w.Apply(e); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkApply(b *testing.B) {
	w, e := halfway(b)
	b.ReportAllocs()
	for b.Loop() {
		w.Apply(e)
	}
}

func BenchmarkApplyRefused(b *testing.B) {
	w, e := halfway(b)
	e.Data = Snugged{}
	b.ReportAllocs()
	for b.Loop() {
		w.Apply(e)
	}
}

func BenchmarkNext(b *testing.B) {
	w, e := halfway(b)
	b.ReportAllocs()
	for b.Loop() {
		w.Next(e.At)
	}
}

func BenchmarkKey(b *testing.B) {
	w, _ := halfway(b)
	b.ReportAllocs()
	for b.Loop() {
		_ = w.Key()
	}
}
