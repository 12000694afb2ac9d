package reference

import "evenload/joint/unit"

var gaskets = newTable("gasket_m_y.csv", "status", "", func(r Row) string { return r.text("gasket") })

// Gasket has the factors of ASME VIII-1 Appendix 2 for a kind of gasket.
type Gasket struct {
	Name string
	M    float64
	Y    unit.Stress
	Mark Mark
}

// GasketOf finds a kind of gasket as people write it: "spiral wound, stainless".
func GasketOf(name string) (Gasket, error) {
	rows, err := words(gaskets)(name)
	if err != nil {
		return Gasket{}, err
	}
	r := rows[0].row
	return Gasket{Name: r.Name, M: r.number("m"), Y: megapascal(r, "y_MPa"), Mark: gaskets.markOf(r)}, nil
}
