package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenload/sequence"
)

// PartFacts are what goes into the joint and what each bolt is to carry, from the
// plan and the inputs that it was made of: a card has both in its first line.
func PartFacts(p *sequence.Plan, inputs []sequence.Input) []sequence.Told {
	var all []sequence.Told
	said := func(label, text string) {
		if text != "" {
			all = append(all, sequence.Told{Label: label, Text: text})
		}
	}
	gasket := p.About.Gasket
	inner, hasInner := inputOf(inputs, "gasket.inner")
	if outer, ok := inputOf(inputs, "gasket.outer"); ok && hasInner {
		from, source, _ := strings.Cut(inner.Value, " (") // a table's name behind both is said once
		if !strings.HasSuffix(outer.Value, " ("+source) {
			from = inner.Value
		}
		gasket = strings.TrimPrefix(gasket+", seals from "+from+" to "+outer.Value, ", ")
	}
	said("gasket", cmp.Or(gasket, "not given"))
	if p.Aim.NutFactor > 0 {
		said("lubricant", strings.TrimPrefix(fmt.Sprintf("%s, nut factor %.3g", p.About.Lubricant, p.Aim.NutFactor)+frictionFrom(inputs), ", "))
	} else {
		said("lubricant", p.About.Lubricant)
	}
	said("target", targetText(p, inputs))
	if p.Aim.Load > 0 {
		said("bolt load", "about "+p.Aim.Load.Text(p.System)+" at 100 %, an estimate")
	}
	return all
}

func inputOf(inputs []sequence.Input, key string) (sequence.Input, bool) {
	i := slices.IndexFunc(inputs, func(in sequence.Input) bool { return in.Key == key })
	if i < 0 {
		return sequence.Input{}, false
	}
	return inputs[i], true
}

// frictionFrom says where the nut factor comes from.
func frictionFrom(inputs []sequence.Input) string {
	if in, ok := inputOf(inputs, "friction.nut_factor"); ok {
		return " (" + in.Origin + ")"
	}
	thread, hasThread := inputOf(inputs, "friction.thread")
	if bearing, ok := inputOf(inputs, "friction.bearing"); ok && hasThread {
		return " from the frictions " + thread.Value + " of the thread and " + bearing.Value + " of the nut's face"
	}
	return ""
}

// targetText is the target as the job gives it, with the stress that it comes to.
func targetText(p *sequence.Plan, inputs []sequence.Input) string {
	var parts []string
	for _, t := range [][2]string{{"target.yield_share", " of yield"}, {"target.bolt_stress", " bolt stress"}, {"target.bolt_load", " bolt load"}, {"target.torque", " torque"}} {
		in, ok := inputOf(inputs, t[0])
		if !ok {
			continue
		}
		text := in.Value + t[1]
		if area, ok := inputOf(inputs, "target.area"); ok {
			text += " on the " + area.Value + " area"
		}
		parts = append(parts, text+" ("+in.Origin+")")
	}
	if p.Aim.TensileStress > 0 {
		text := "about " + p.Aim.TensileStress.Text(p.System) + " on the tensile area"
		if _, said := inputOf(inputs, "target.yield_share"); p.Aim.YieldShare > 0 && !said {
			text += ", " + p.Aim.YieldShare.Text() + " of yield"
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ": ")
}

// socketOf is the width of the nuts across flats as the inputs have it, empty where
// they do not. A record looks nothing up that its card does not say.
func socketOf(inputs []sequence.Input) string {
	if in, ok := inputOf(inputs, "bolts.nut_width"); ok {
		return in.Value + " (" + in.Origin + ")"
	}
	if in, ok := inputOf(inputs, "bolts.bearing_outer"); ok && strings.Contains(in.Value, "across flats") {
		return in.Value + " (" + in.Origin + ")"
	}
	return ""
}
