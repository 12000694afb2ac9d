package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenload/data/job"
	"evenload/data/reference"
)

// naming is an answer that is a name of a table, behind which a job may have values
// of its own.
type naming struct {
	key   string
	own   []string
	parts func(text string) (name string, own []any, err error) // own as its keys, nil for silent
	table func(name string) (string, error)                     // what the tables call it
}

var namings = map[Name]naming{
	Flange: {"bolts.flange", nil, func(text string) (string, []any, error) { return text, nil, nil },
		func(name string) (string, error) { f, err := reference.FlangeOf(name); return f.Name, err }},
	Grade: {"bolts.grade", []string{"bolts.yield"}, yieldBehind, reference.GradeName},
	Lubricant: {"friction.lubricant", []string{"friction.nut_factor"}, factorBehind,
		func(name string) (string, error) { l, err := reference.LubricantOf(name); return l.Name, err }},
	Gasket: {"gasket.type", []string{"gasket.inner", "gasket.outer"}, sizesBehind,
		func(name string) (string, error) { g, err := reference.GasketOf(name); return g.Name, err }},
}

// same says that two spellings are of one name.
func (n naming) same(a, b string) bool {
	if strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " ")) {
		return true
	}
	x, err := n.table(a)
	if err != nil {
		return false
	}
	y, err := n.table(b)
	return err == nil && x == y
}

// over are the keys that an answer changes in the text that is there, none where it
// says what the text says. What the text has of its own beside the same name, or
// beside a stress, stays where the answer is silent of it, and stays tells of that;
// but no diameters of a gasket, where the flange is another.
func (d *Draft) over(name Name, text string, otherFlange bool) (keys []job.Change, stays string, err error) {
	pointed, err := figures(name, text)
	if err != nil {
		return nil, "", err
	}
	n, named := namings[name]
	has := d.given.Text(n.key)
	if !named || has == "" || pointed == "" {
		keys, err = d.keys(name, text)
		if err == nil && name == Target {
			keys, stays = d.overTarget(keys)
		}
	} else {
		keys, stays, err = d.overName(name, n, pointed, otherFlange)
	}
	if err != nil || d.stands(keys) {
		return nil, stays, err
	}
	return keys, stays, nil
}

// overName is over of a name where the text has one.
func (d *Draft) overName(name Name, n naming, text string, otherFlange bool) (keys []job.Change, stays string, err error) {
	has := d.given.Text(n.key)
	own := make([]any, len(n.own)) // what the answer has behind the name
	if !n.same(text, has) {
		bare := ""
		if bare, own, err = n.parts(text); err != nil {
			return nil, "", err
		}
		if !n.same(bare, has) {
			keys, err = d.keys(name, text)
			return keys, "", err
		}
	}
	var kept []string
	for i, key := range n.own {
		switch {
		case own[i] != nil:
			keys = append(keys, job.Change{Key: key, Value: own[i]})
		case d.given.Has(key):
			kept = append(kept, d.valued(key))
		}
	}
	switch {
	case len(kept) == 0:
	case name == Gasket && otherFlange:
		keys, err = d.keys(name, text)
	default:
		verb := "stays"
		if len(kept) > 1 {
			verb = "stay"
		}
		stays = fmt.Sprintf("%s of %s %s, the %s is the same: to have another, write it behind the name", strings.Join(kept, " and "), d.whose(), verb, name)
	}
	return keys, stays, err
}

// overTarget leaves a target as it is written that is the same, and beside a stress
// the area that it is of.
func (d *Draft) overTarget(keys []job.Change) (left []job.Change, stays string) {
	for i, k := range targetKeys {
		has := d.given.Text(keys[i].Key)
		if keys[i].Value == nil || has == "" {
			continue
		}
		now, _ := k.value(fmt.Sprint(keys[i].Value)) // it was read already
		if was, err := k.value(has); err == nil && math.Abs(was-now) <= 1e-9*math.Abs(was) {
			keys[i].Value = has
		}
	}
	area := slices.IndexFunc(keys, func(c job.Change) bool { return c.Key == areaKey })
	stress := slices.ContainsFunc(keys, func(c job.Change) bool { return c.Key == stressKey && c.Value != nil })
	if !stress || !d.given.Has(stressKey) || keys[area].Value != nil || !d.given.Has(areaKey) {
		return keys, ""
	}
	return slices.Delete(keys, area, area+1), fmt.Sprintf("%s of %s stays: to have the other area, write it behind the stress", d.valued(areaKey), d.whose())
}

// whose text it is that the answers go into.
func (d *Draft) whose() string {
	if d.Like != "" {
		return "the template"
	}
	return "the file"
}

// valued is a key with its value, where that is one.
func (d *Draft) valued(key string) string { return strings.TrimSpace(key + " " + d.given.Text(key)) }
