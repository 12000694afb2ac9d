package reference

import (
	"fmt"
	"strings"

	"evenload/joint/pattern"
	"evenload/joint/unit"
)

var grades = newTable("materials.csv", "confirmed_by", "", func(r Row) string { return r.text("grade") })

// Grade is the strength of a bolt material at one size.
type Grade struct {
	Name    string
	Sizes   string // the range of the row, as the table has it
	Yield   unit.Stress
	Tensile unit.Stress
	Proof   unit.Stress // 0: the standard has none
	Sized   bool        // the standard is for one kind of thread only
	Inch    bool        // and that is inch
	Mark    Mark
}

// GradeOf finds the strength of a grade at a nominal diameter: "A193 B7",
// "B7", "8.8", "grade 5".
func GradeOf(name string, d unit.Length) (Grade, error) {
	rows, err := words(grades)(astm.Made().ReplaceAllString(name, "A$1 "))
	if err != nil {
		return Grade{}, err
	}
	inch := strings.HasPrefix(rows[0].row.Name, "SAE J429") || strings.HasPrefix(rows[0].row.Name, "ASTM F3125")
	metric := strings.HasPrefix(rows[0].row.Name, "ISO 898-1")
	var sizes []string
	for _, f := range rows {
		over, upTo := f.row.number("over_mm"), f.row.number("upto_mm")
		if at := float64(d) / unit.Millimetre; at > over+hair && (upTo == 0 || at <= upTo+hair) {
			return Grade{Name: f.row.Name, Sizes: f.row.text("size_range"), Yield: megapascal(f.row, "yield_MPa"), Tensile: megapascal(f.row, "tensile_MPa"),
				Proof: megapascal(f.row, "proof_MPa"), Sized: inch || metric, Inch: inch, Mark: grades.markOf(f.row)}, nil
		}
		sizes = append(sizes, f.row.text("size_range"))
	}
	return Grade{}, fmt.Errorf("%s is not made in this size, the table has it for %s", rows[0].row.Name, strings.Join(sizes, "; "))
}

// astm are the numbers of bolt standards, as people run them together: "SA193 B7", "A193B7".
var astm = pattern.Lazy{Text: `(?i)\bS?A[- ]?(193|320|453)[- ]?`}

// hair keeps rounding of inches out of comparisons, in mm.
const hair = 1e-6

func megapascal(r Row, column string) unit.Stress { return unit.Stress(r.number(column) * 1e6) }
