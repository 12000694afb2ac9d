package reference

var (
	lubricants = newTable("nut_factors.csv", "source_and_status", "", func(r Row) string { return r.text("condition") })
	scatters   = newTable("scatter_by_method.csv", "status", "", func(r Row) string { return r.text("method") })
)

// Lubricant is the nut factor of a lubricant or surface: low, usual and high.
// A number of 0 is not in the table.
type Lubricant struct {
	Name               string
	Least, Usual, Most float64
	Mark               Mark
}

// LubricantOf finds a lubricant as people write it: "nickel anti-seize".
func LubricantOf(name string) (Lubricant, error) {
	rows, err := words(lubricants)(name)
	if err != nil {
		return Lubricant{}, err
	}
	r := rows[0].row
	return Lubricant{Name: r.Name, Least: r.number("K_min"), Usual: r.number("K_mean"), Most: r.number("K_max"), Mark: lubricants.markOf(r)}, nil
}
