package job

import (
	"strconv"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// positions reads where the bolts of a joint that is no ring are. They are
// taken only when all of them are right.
func (r *reader) positions(t *table) {
	places := t.list("positions", sequence.MostBolts)
	if r.noRing = len(places) > 0; !r.noRing {
		return
	}
	before := len(*t.faults)
	var layout joint.Layout
	for i, v := range places {
		at := join(t.at("positions"), strconv.Itoa(i))
		m, ok := v.(map[string]any)
		if !ok {
			t.fault(at, `bolts.positions: bolt %d is %s, { x = "120 mm", y = "0 mm" } is wanted`, i+1, typeName(v))
			continue
		}
		p := &table{source: t.source, path: at, name: "bolts.positions." + strconv.Itoa(i+1), has: m}
		layout = append(layout, joint.Position{X: p.coordinate("x"), Y: p.coordinate("y")})
		p.end()
	}
	if count := r.job.Joint.Bolts; count > 0 && len(places) != count {
		t.fault(t.at("positions"), "bolts.positions has %d bolts, bolts.count is %d", len(places), count)
	}
	if len(places) < sequence.FewestBolts {
		t.fault(t.at("positions"), "bolts.positions has %d bolts, %d to %d can be tightened", len(places), sequence.FewestBolts, sequence.MostBolts)
	}
	r.onlyRing(t, "flange", "a flange of the tables is a ring: for a cover, keep positions and take flange out")
	r.onlyRing(t, "circle", "keep circle for a ring, positions for a cover")
	if len(*t.faults) == before {
		r.spread(t, layout)
	}
	if len(*t.faults) == before {
		r.job.Joint.Positions = layout
	}
}

// coordinate reads a length of either sign, or none.
func (t *table) coordinate(axis string) unit.Length {
	t.need(axis, `"120 mm"`)
	text := t.text(axis, "")
	if text == "" {
		return 0
	}
	v, err := unit.ParseLength(text)
	switch {
	case err != nil:
		t.fault(t.at(axis), "%s: %v", t.key(axis), err)
	case v < -joint.MostPosition || v > joint.MostPosition:
		t.fault(t.at(axis), "%s is %q, a bolt is at most %v m from the origin", t.key(axis), clean(text), float64(joint.MostPosition))
	}
	return v
}

// spread holds positions against each other: no two bolts where one has no
// room beside the other, and not all on one line.
func (r *reader) spread(t *table, l joint.Layout) {
	line := func(i int) string { return join(t.at("positions"), strconv.Itoa(i)) }
	s := r.job.System
	least := joint.PitchLeast * r.job.Joint.Thread.Diameter
	if i, j, is := l.Crowded(max(least, unit.Length(0.1*unit.Millimetre))); is {
		t.fault(line(j), "bolts.positions: bolt %d is %s from bolt %d (line %d), 1.5 bolt diameters (%s) are the least: look at both",
			j+1, l[i].To(l[j]).Text(s), i+1, t.line(line(i)), least.Text(s))
		return
	}
	if l.OnOneLine() {
		t.fault(t.at("positions"), "bolts.positions: all bolts are on one line, which holds no cover: look at x and y")
	}
}

// onlyRing refuses a key that is for bolts on a circle beside positions.
func (r *reader) onlyRing(t *table, key, keep string) {
	if t.take(key) != nil {
		t.fault(t.at(key), "%s is given beside bolts.positions: %s", t.key(key), keep)
	}
}

// pattern reads how the bolts are ordered: on a circle by the star, bolts with
// positions from the middle outward, where the job is silent.
func (r *reader) pattern(t *table) sequence.Pattern {
	if !r.noRing {
		return choice(t, "pattern", sequence.Star, sequence.Star, sequence.Quadrant, sequence.Circle, sequence.Given)
	}
	switch p := sequence.Pattern(strings.TrimSpace(t.text("pattern", string(sequence.Outward)))); p {
	case sequence.Outward, sequence.Given:
		return p
	default:
		t.fault(t.at("pattern"), "procedure.pattern is %q: bolts with positions take %q, which silent means, or %q with an order; star, quadrant and circle are for bolts on a circle",
			clean(string(p)), string(sequence.Outward), string(sequence.Given))
	}
	return sequence.Outward
}

// gapPlaces reads beside how many bolts gaps are measured.
func (r *reader) gapPlaces(t *table) int {
	bolts := r.job.Joint.Bolts
	if r.noRing {
		// The corners and the middles of the sides: common practice.
		return t.whole("gap_places", 8, sequence.FewestLayoutGaps, 64)
	}
	// Four places on a small flange, eight on a large one: common practice.
	places := 4
	if bolts >= 16 {
		places = 8
	}
	if bolts > 0 {
		places = min(places, bolts)
	}
	return t.whole("gap_places", places, 2, 64)
}
