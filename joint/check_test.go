package joint

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"evenload/joint/unit"
)

// table reads a file of published values; each row is a map by its heading.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "check", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, heading := range lines[0] {
			row[heading] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// value reads a number of a table.
func value(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// wantNear fails when got is further from want than the share of it.
func wantNear(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %.6g, published %.6g, %.2f %% away", what, got, want, 100*(got-want)/want)
	}
}

// wantPrinted fails when got is further from the printed number than the share
// of it and also further than the printed number was rounded.
func wantPrinted(t *testing.T, what string, got float64, printed string, share float64) {
	t.Helper()
	want := value(t, printed)
	if math.Abs(got-want) > halfDigit(printed)*(1+1e-9) {
		wantNear(t, what, got, want, share)
	}
}

// halfDigit is half of the last digit of a printed number. Whole numbers above
// a thousand are printed to three figures.
func halfDigit(printed string) float64 {
	_, decimals, _ := strings.Cut(printed, ".")
	if decimals == "" && len(printed) > 3 {
		return math.Pow10(len(printed)-3) / 2
	}
	return math.Pow10(-len(decimals)) / 2
}

func thread(t testing.TB, designation string) Thread {
	t.Helper()
	th, err := ParseThread(designation)
	if err != nil {
		t.Fatal(err)
	}
	return th
}

const (
	mm  = unit.Millimetre
	mm2 = 1e-6
	in  = unit.Inch
	in2 = unit.Inch * unit.Inch
	mpa = 1e6
	ksi = 1e3 * unit.PoundPerSquareInch
	bar = unit.Bar
)
