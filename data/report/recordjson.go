package report

import (
	"cmp"
	_ "embed"
	"io"
	"slices"
	"time"

	"evenload/data/visible"
	"evenload/joint/unit"
	"evenload/sequence"
)

// RecordSchema is the JSON Schema of what RecordJSON writes.
//
//go:embed record.schema.json
var RecordSchema []byte

// The record for other programs. Fields may come, none changes; what is not
// orNull is null or empty. Torques in N·m, forces in N, pressures in bar, stresses in
// MPa, lengths in mm.
type recordJSON struct {
	Format   int           `json:"format"`
	Record   string        `json:"record"`
	Seal     string        `json:"seal"`
	State    State         `json:"state"`
	Why      string        `json:"why"`
	Tag      string        `json:"tag"`
	Approved string        `json:"approved_by"`
	Facts    []factJSON    `json:"facts"`
	Asked    askedJSON     `json:"asked"`
	People   []personJSON  `json:"people"`
	SignOns  []personJSON  `json:"sign_ons"`
	Bolts    []turnJSON    `json:"bolts"`
	Readings []readingJSON `json:"readings"`
	Gaps     []gapJSON     `json:"gaps"`
	Studs    []studJSON    `json:"studs"`
	Attempts []attemptJSON `json:"attempts"`
	Measured []studTurn    `json:"stud_readings"`
	Rests    []restJSON    `json:"rests"`
	Open     []string      `json:"exceptions"`
	Events   []eventJSON   `json:"events"`
	Forks    []Fork        `json:"forks"`
}

type factJSON struct {
	Label string `json:"label"`
	Text  string `json:"text"`
}

// askedJSON is what the plan asks of the joint: what goes into it and what each bolt
// is to carry, estimated.
type askedJSON struct {
	Service    string           `json:"service"`
	Gasket     string           `json:"gasket"`
	Lubricant  string           `json:"lubricant"`
	Socket     string           `json:"socket"`
	Target     string           `json:"target"`
	NutFactor  *float64         `json:"nut_factor"`
	Torque     *float64         `json:"torque_Nm"`
	Load       *float64         `json:"bolt_load_N"`
	Tensile    *float64         `json:"tensile_stress_MPa"`
	Root       *float64         `json:"root_stress_MPa"`
	YieldShare *float64         `json:"yield_share"`
	Inputs     []sequence.Input `json:"inputs"` // of the job, with where each comes from
}

func askedOf(opened sequence.CardOpened) askedJSON {
	about, aim := opened.Plan.About, opened.Plan.Aim
	return askedJSON{about.Service, about.Gasket, about.Lubricant, socketOf(opened.Inputs), targetText(&opened.Plan, opened.Inputs), orNull(aim.NutFactor),
		orNull(float64(aim.Torque)), orNull(float64(aim.Load)), orNull(float64(aim.TensileStress) / 1e6), orNull(float64(aim.RootStress) / 1e6), orNull(float64(aim.YieldShare)),
		append([]sequence.Input{}, opened.Inputs...)}
}

// everybody are those who worked the tool, once each, as at the last sign-on.
func (d *AsDone) everybody() []personJSON {
	all := []personJSON{}
	for _, p := range d.People {
		one := personJSON{p.Name, p.Role, p.Company, p.Qualification, p.QualifiedUntil.String(), p.Second, p.Supervisor, isoOrEmpty(p.From)}
		i := slices.IndexFunc(all, func(before personJSON) bool { return sequence.SameName(before.Name, p.Name) })
		if i < 0 {
			all = append(all, one)
			continue
		}
		one.SignedOn, one.Second = all[i].SignedOn, cmp.Or(one.Second, all[i].Second)
		all[i] = one
	}
	return all
}

type personJSON struct {
	Name           string `json:"name"`
	Role           string `json:"role"`
	Company        string `json:"company"`
	Qualification  string `json:"qualification"`
	QualifiedUntil string `json:"qualified_until"`
	Second         string `json:"second"`
	Supervisor     string `json:"supervisor"`
	SignedOn       string `json:"signed_on"`
}

type turnJSON struct {
	Line    int      `json:"line"`
	Bolt    int      `json:"bolt"`
	Pass    int      `json:"pass"`
	Share   float64  `json:"share"`
	Series  int      `json:"check_series"`
	Round   int      `json:"check_round"`
	Repeat  int      `json:"repeat"`
	NewBolt int      `json:"new_bolt"`
	Letter  string   `json:"tool_letter"`
	Tool    string   `json:"tool"`
	Torque  *float64 `json:"torque_Nm"`
	Set     *float64 `json:"set_bar"`
	Read    *float64 `json:"read_bar"`
	Result  string   `json:"result"`
	At      string   `json:"at"`
	By      string   `json:"by"`
	Note    string   `json:"note"`
	SetWhy  string   `json:"check_series_why"`

	Gasket   int    `json:"gasket_no"`
	Rejected string `json:"rejected"`
	Gauge    string `json:"gauge"`

	Given *float64 `json:"gives_Nm"` // what the setting gives by the tool's chart
}

type readingJSON struct {
	Line    int      `json:"line"`
	Pass    int      `json:"pass"`
	Repeat  int      `json:"repeat"`
	Series  int      `json:"check_series"`
	Round   int      `json:"check_round"`
	NewBolt int      `json:"new_bolt"`
	AtEnd   bool     `json:"at_end"`
	Letter  string   `json:"tool_letter"`
	Tool    string   `json:"tool"`
	Running *float64 `json:"running_bar"`
	Static  *float64 `json:"static_bar"`
	Least   *float64 `json:"least_bar"`
	Most    *float64 `json:"most_bar"`
	At      string   `json:"at"`
	By      string   `json:"by"`
	Gasket  int      `json:"gasket_no"`
	Judged  string   `json:"judged"`
	Gauge   string   `json:"gauge"`
}

// attemptJSON is one attempt at a pass, or a check round, with how many bolts have
// which mark.
type attemptJSON struct {
	Gasket   int    `json:"gasket_no"`
	Pass     int    `json:"pass"`
	Repeat   int    `json:"repeat"`
	Series   int    `json:"check_series"`
	Round    int    `json:"check_round"`
	SetWhy   string `json:"check_series_why"`
	Rejected string `json:"rejected"`
	Counts
}

type studTurn struct {
	Line   int    `json:"line"`
	Gasket int    `json:"gasket_no"`
	Result string `json:"result"`
	studJSON
	At string `json:"at"`
	By string `json:"by"`
}

type gapJSON struct {
	Line     int        `json:"line"`
	After    string     `json:"after"`
	Spread   float64    `json:"spread_mm"`
	Limit    float64    `json:"limit_mm"`
	Readings []placedMM `json:"readings"`
	Accepted string     `json:"accepted_by"`
	At       string     `json:"at"`
	Inside   bool       `json:"inside"` // the limit, and not wider apart than before
}

type restJSON struct {
	Line    int     `json:"line"`
	Planned float64 `json:"planned_s"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	Waived  string  `json:"waived_by"`
}

type studJSON struct {
	Bolt    int     `json:"bolt"`
	Stretch float64 `json:"stretch_mm"`
	Load    float64 `json:"load_N"`
	Within  float64 `json:"give_or_take_N"`
	InBand  bool    `json:"in_band"`

	BeyondYield bool `json:"beyond_yield,omitempty"` // the load is at least that of yield: the one that an elastic stud would have is no measure
}

type placedMM struct {
	Bolt int     `json:"bolt"`
	Gap  float64 `json:"gap_mm"`
}

type eventJSON struct {
	Line int    `json:"line"`
	At   string `json:"at"`
	By   string `json:"by"`
	Role string `json:"role"`
	Kind string `json:"kind"`
	Text string `json:"text"`
	Back bool   `json:"clock_went_back"`
}

// RecordJSON writes a card for other programs, as RecordSchema has it.
func RecordJSON(out io.Writer, d AsDone) error {
	r := recordJSON{Format: 1, Record: d.ID, Seal: d.Seal, State: d.State, Why: d.Why, Tag: d.Plan.About.Tag, Approved: d.Plan.About.ApprovedBy,
		Facts: []factJSON{}, Asked: askedOf(d.Opened), People: d.everybody(), SignOns: []personJSON{}, Bolts: []turnJSON{}, Readings: []readingJSON{}, Gaps: []gapJSON{}, Studs: []studJSON{}, Attempts: []attemptJSON{}, Measured: []studTurn{}, Rests: []restJSON{}, Open: append([]string{}, d.Walk.Exceptions()...), Events: []eventJSON{}, Forks: append([]Fork{}, d.Forks...)}
	for _, f := range d.Facts() {
		r.Facts = append(r.Facts, factJSON(f))
	}
	for _, p := range d.People {
		r.SignOns = append(r.SignOns, personJSON{p.Name, p.Role, p.Company, p.Qualification, p.QualifiedUntil.String(), p.Second, p.Supervisor, isoOrEmpty(p.From)})
	}
	for _, t := range d.Turns {
		torque := float64(t.Setting.Torque)
		r.Bolts = append(r.Bolts, turnJSON{t.Line, int(t.Bolt), t.Pass, float64(t.Share), t.RoundSet, t.Round, t.Repeat, int(t.Redo), t.Letter, t.Tool.ID,
			orNull(torque), inBar(t.Setting.Set), inBar(t.Read), t.Result, isoOrEmpty(t.At), t.By, t.Note, d.setWhy(t.RoundSet), t.Gasket, d.columnOfTurn(t).Rejected, t.Tool.Gauge.ID, orNull(float64(t.Setting.Delivered))})
	}
	for _, e := range d.Reads {
		r.Readings = append(r.Readings, readingJSON{e.Line, e.Pass, e.Repeat, e.RoundSet, e.Round, int(e.Redo), e.AtEnd, e.Letter, e.Tool.ID, inBar(e.Running), inBar(e.Static), inBar(e.Setting.Least), inBar(e.Setting.Most), isoOrEmpty(e.At), e.By, e.Gasket, e.judged(), e.Tool.Gauge.ID})
	}
	for _, g := range d.Gaps {
		r.Gaps = append(r.Gaps, gapOf(g))
	}
	stud := func(s sequence.StretchMeasured) studJSON {
		return studJSON{int(s.Bolt), inMM(s.Stretch), float64(s.Load), float64(s.Within), d.Plan.Stretch.InBand(s.Load), d.Plan.Stretch.Beyond(s.Load)}
	}
	for _, s := range d.Walk.Studs() {
		r.Studs = append(r.Studs, stud(s))
	}
	for _, s := range d.Studs {
		r.Measured = append(r.Measured, studTurn{s.Line, s.Gasket, s.Result, stud(s.StretchMeasured), isoOrEmpty(s.At), s.By})
	}
	for _, t := range d.Rests {
		one := restJSON{Line: t.Line, Planned: time.Duration(d.Plan.Rest).Seconds(), From: isoOrEmpty(t.From), To: isoOrEmpty(t.To)}
		if t.Waived != nil {
			one.Waived = DecidedBy(*t.Waived)
		}
		r.Rests = append(r.Rests, one)
	}
	passes, rounds := d.Columns()
	for _, c := range slices.Concat(passes, rounds) {
		r.Attempts = append(r.Attempts, attemptJSON{c.Gasket, c.Pass, c.Repeat, c.RoundSet, c.Round, d.setWhy(c.RoundSet), c.Rejected, d.Count(c)})
	}
	for _, e := range d.Events {
		r.Events = append(r.Events, eventJSON{e.N, isoOrEmpty(e.At), e.By, e.Role, string(e.Kind), e.Text, e.Back})
	}
	return visible.JSON(out, r)
}

func gapOf(g GapTurn) gapJSON {
	all := gapJSON{Line: g.Line, After: g.After, Spread: inMM(g.Spread), Limit: inMM(g.Limit), At: isoOrEmpty(g.At), Readings: []placedMM{}, Inside: !g.OverLimit && !g.Grown}
	for _, one := range g.Readings {
		all.Readings = append(all.Readings, placedMM{int(one.Bolt), inMM(one.Gap)})
	}
	if g.Accepted != nil {
		all.Accepted = DecidedBy(*g.Accepted)
	}
	return all
}

// DecidedBy names who decided, with role and reason.
func DecidedBy(n sequence.Named) string { return n.Name + ", " + n.Role + ": " + n.Reason }

func inMM(l unit.Length) float64 { return float64(l) / unit.Millimetre }

func inBar(p unit.Pressure) *float64 { return orNull(p.In("bar")) }

// orNull is null for what is not known.
func orNull(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}
