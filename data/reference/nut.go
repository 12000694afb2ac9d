package reference

import (
	"fmt"
	"strings"

	"evenload/joint/unit"
)

var nuts = newTable("nuts_across_flats.csv", "status", "", func(r Row) string { return r.text("standard") + " " + r.text("thread") })

// Nut is a hexagon nut: the width across its flats is the socket to fetch.
type Nut struct {
	Name   string
	Width  unit.Length
	Text   string      // the width as the socket is marked: "1-7/16 in", "36 mm"
	Height unit.Length // 0 where the table has none
	Mark   Mark
}

// findNuts finds nuts by the thread alone, "7/8" or "M20", or by words of their
// names: "7/8" is no part of "1-7/8" then.
func findNuts(asked string) ([]found, error) {
	size := strings.TrimSpace(strings.TrimSuffix(strings.ToUpper(strings.TrimSpace(asked)), " IN"))
	var rows []found
	for _, r := range nuts.get().Rows {
		if r.text("thread") == size {
			rows = append(rows, found{nuts, r})
		}
	}
	if rows != nil {
		return rows, nil
	}
	return words(nuts)(asked)
}

// NutsOf finds the nuts of a nominal size, "7/8" or "M20", the usual one first:
// heavy hexagon for inch sizes, ISO 4032 for metric ones. Others that fit the
// same thread follow.
func NutsOf(size string) ([]Nut, error) {
	var all []Nut
	for _, r := range nuts.get().Rows {
		if r.text("thread") != size {
			continue
		}
		n := Nut{Name: r.text("standard"), Mark: nuts.markOf(r)}
		if strings.HasPrefix(size, "M") {
			n.Text = r.text("af_nominal") + " mm"
			n.Width, n.Height = mm(r, "af_nominal"), mm(r, "nut_height_basic_or_max")
		} else {
			n.Text = r.text("af_nominal") + " in"
			n.Width, n.Height = inch(r.text("af_nominal")), inch(r.text("nut_height_basic_or_max"))
		}
		n.Name = strings.TrimSuffix(strings.TrimSuffix(n.Name, " (inch)"), " (mm)")
		all = append(all, n)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("no nut for %q is in the table: measure the width across flats", size)
	}
	return all, nil
}
