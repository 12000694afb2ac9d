// Package board looks at many jobs and cards below one folder: where each
// stands, what waits for whom, and which joints a tool touched.
package board

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"evenload/data/card"
	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/pattern"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Summary is what the board keeps of one file. Nothing in it depends on the
// day or hour at which it is looked at.
type Summary struct {
	Path string // from the folder of the board, with slashes
	Kind Kind

	ID     string // a card's own: the hash of its first line
	Lines  int    // whole ones
	Hash   string // of the last whole line
	Torn   bool   // a last line that is not whole
	Damage string // why the reading ended early, empty when it did not
	Line   int    // where the damage is, 0 when the chain is whole

	Tag, Where string
	JobFile    string // that a card was begun with
	JobSHA256  string
	Inputs     string // SHA-256 of the resolved values
	Approved   bool
	Offset     int // minutes of local time from UTC
	Bolts      int // of the joint
	Tools      []Due
	Errors     int // that check finds in a job

	Stage    sequence.Stage // empty where nothing can be told
	Pass, Of int
	Share    unit.Share
	Round    int
	Redo     sequence.Bolt
	Done     int
	Operator string
	Working  bool
	Silence  time.Duration // after which somebody at work has left, by the plan
	Holds    []Wait        // what the walk itself waits for
	RestEnds time.Time     // zero when there is no rest
	LastAt   time.Time
	LastBy   string
	Last     string // the last event in words
	Back     int    // line at which the clock had gone back, 0 for none
	Touches  []Touch
	Leak     sequence.LeakResult // of the leak test, empty before it
	LeakAt   []sequence.Bolt     // beside which it leaked
	Follows  string              // seal of the card before this one, empty for none
}

// Kind is what kind of file a summary is of.
type Kind string

// The kinds.
const (
	Card     Kind = "card"
	Job      Kind = "job"
	Practice Kind = "practice" // a card that no joint stands behind
	Trouble  Kind = "trouble"  // a file or folder that could not be read
)

// Due is a tool in use with its gauge, and when each is due for calibration.
type Due struct {
	Tool, Gauge string
	Certificate string // of the tool
	Due         joint.Date
	GaugeDue    joint.Date
}

func dueOf(tools []joint.Tool) []Due {
	var all []Due
	for _, t := range tools {
		all = append(all, Due{t.ID, t.Gauge.ID, t.Certificate, t.Due, t.Gauge.Due})
	}
	return all
}

// errNotStraight means that only the replay tells all that is kept of a card.
var errNotStraight = errors.New("not straight")

// errOrder means that the chain of a card is whole and its order cannot have been.
var errOrder = errors.New("it does not follow its own plan")

// Read summarises a card. The walk of a card that its last line closes is not
// replayed where it went straight: no other work can follow, all that is kept of it
// stands in the lines, and verify replays it. Every line is read and held against
// the chain.
func Read(path string, r io.ReadSeeker) Summary {
	closed, err := endsClosed(r)
	if err == nil && closed {
		if s, ok := read(path, r, false); ok {
			return s
		}
		_, err = r.Seek(0, io.SeekStart) // damage stands before the line that closes it, or it has to be replayed
	}
	if err != nil {
		return Summary{Path: path, Kind: Trouble, Damage: err.Error()}
	}
	s, _ := read(path, r, true)
	return s
}

// tailBytes is more than the line that closes a card has.
const tailBytes = 2048

var lineOfClosing = pattern.Lazy{Text: `^\{"n":[0-9]+,"at":"[^"]*","by":"(?:[^"\\]|\\.)*","kind":"closed"`}

// endsClosed looks at the last line alone. The reading that follows shows
// whether it is whole.
func endsClosed(r io.ReadSeeker) (bool, error) {
	size, err := r.Seek(0, io.SeekEnd)
	if err != nil {
		return false, err
	}
	if _, err := r.Seek(max(0, size-tailBytes), io.SeekStart); err != nil {
		return false, err
	}
	tail, err := io.ReadAll(io.LimitReader(r, tailBytes))
	if err != nil {
		return false, err
	}
	tail = bytes.TrimSuffix(tail, []byte{'\n'})
	last := tail[bytes.LastIndexByte(tail, '\n')+1:]
	_, err = r.Seek(0, io.SeekStart)
	return lineOfClosing.Made().Match(last), err
}

// read goes through a card once. Without the replay it is no answer, ok false,
// for a card that turns out not to be closed.
func read(path string, r io.Reader, replay bool) (s Summary, ok bool) {
	f := fold{s: Summary{Path: path, Kind: Card}, replay: replay}
	end, err := card.Stream(path, r, f.take)
	if !replay && !f.closed {
		return f.s, false
	}
	f.s.Lines, f.s.Hash, f.s.Torn = end.Lines, end.Hash, end.Torn != nil
	var damage *card.DamageError
	switch {
	case errors.As(err, &damage):
		f.s.Line, f.s.Damage = damage.Line, damage.Why
	case errors.Is(err, errOrder): // its line is not one of those that hold
		f.s.Line, f.s.Damage = end.Lines, err.Error()
		f.s.Lines, f.s.Hash = end.Lines-1, f.before
	case err != nil:
		f.s.Damage = err.Error()
	}
	if f.s.ID == "" && f.s.Line == 0 {
		f.s.Kind = Trouble
	}
	f.finish()
	return f.s, true
}

// fold takes the events of a card one by one and keeps what the board shows.
type fold struct {
	s      Summary
	replay bool

	plan     *sequence.Plan
	walk     sequence.Walk // where it is replayed
	previous sequence.Walk // before the last event
	last     sequence.Event
	before   string // hash of the line before
	hash     string
	closed   bool
	touches  touches
}

func (f *fold) take(e card.Entry) error {
	f.before, f.hash = f.hash, e.Hash
	if e.N > 1 && f.s.Back == 0 && e.Event.At.Before(f.last.At) {
		f.s.Back = e.N
	}
	if opened, ok := e.Event.Data.(sequence.CardOpened); ok {
		f.last = e.Event
		return f.open(opened, e.Hash)
	}
	if f.replay {
		next, err := f.walk.Apply(e.Event)
		if err != nil {
			return fmt.Errorf("%w: %w", errOrder, err)
		}
		f.previous, f.walk = f.walk, next
	} else if !f.touches.straight(e.Event.Data) {
		return errNotStraight
	}
	f.last = e.Event
	switch d := e.Event.Data.(type) {
	case sequence.SignedOn:
		f.s.Operator = strings.TrimSpace(d.Name)
	case sequence.LeakTested:
		f.s.Leak, f.s.LeakAt = d.Result, d.Bolts
	case sequence.CardClosed:
		f.closed = true
	}
	set := 0
	switch d := e.Event.Data.(type) {
	case sequence.NutMoved:
		set = f.set(d.Round, d.Bolt)
	case sequence.NutStill:
		set = f.set(d.Round, d.Bolt)
	}
	f.touches.take(e.Event, set)
	return nil
}

// set is that of the check rounds in which a nut was checked, as the record counts them.
func (f *fold) set(round int, b sequence.Bolt) int {
	if f.replay {
		return len(f.previous.RoundSets())
	}
	return f.touches.counts(round, b)
}

// open takes what line 1 froze.
func (f *fold) open(o sequence.CardOpened, id string) error {
	f.plan = &o.Plan
	s := &f.s
	s.ID, s.Tag, s.Where = id, o.Plan.About.Tag, o.Plan.About.Where
	s.JobFile, s.JobSHA256, s.Inputs = o.JobFile, o.JobSHA256, inputsSum(o.Inputs)
	s.Approved, s.Offset, s.Bolts = o.Plan.About.ApprovedBy != "", o.OffsetMinutes, o.Plan.Bolts
	s.Silence = time.Duration(o.Plan.RestartAfter)
	if o.Follows != nil {
		s.Follows = o.Follows.Seal
	}
	if o.Practice {
		s.Kind = Practice
	}
	f.touches = newTouches(f.plan, o.OffsetMinutes)
	w, err := sequence.New(f.plan)
	if err != nil {
		return fmt.Errorf("%w: %w", errOrder, err)
	}
	f.walk, f.previous = w, w
	return nil
}

// finish writes down where the walk stands.
func (f *fold) finish() {
	s := &f.s
	if f.plan == nil || s.Lines == 0 {
		return
	}
	s.LastAt, s.LastBy = f.last.At, f.last.By
	s.Last = report.Sentence(f.previous, f.last.Data)
	s.Touches = f.touches.list()
	switch {
	case !f.replay && f.closed:
		s.Stage, s.Working = sequence.StageClosed, true
	case f.replay:
		f.stand()
	}
}

func (f *fold) stand() {
	s := &f.s
	p := f.walk.Progress()
	s.Stage, s.Pass, s.Of, s.Share, s.Round, s.Redo, s.Done = p.Stage, p.Pass, p.Of, p.Share, p.Round, p.Place.Redo, p.Done
	s.Operator, s.Working = p.Operator, p.Working
	if s.Stage == sequence.StageClosed {
		return
	}
	s.Tools = dueOf(f.walk.Tools())
	s.Holds = holds(f.walk, p)
	if rest, ok := p.Next.(sequence.Rest); ok {
		s.RestEnds = rest.Until
	}
}

// inputsSum tells the resolved values of a job apart.
func inputsSum(inputs []sequence.Input) string {
	text, err := json.Marshal(inputs)
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
