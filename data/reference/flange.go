package reference

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenload/joint/pattern"
	"evenload/joint/unit"
)

var (
	asmeFlanges = newTable("flange_b16_5.csv", "status", "", func(r Row) string { return asmeName(r.text("nps"), r.text("class")) })
	hubs        = newTable("flange_b16_5_hub.csv", "", OneSource, func(r Row) string { return asmeName(r.text("nps"), r.text("class")) })
	enFlanges   = newTable("flange_en1092_1.csv", "status", "", func(r Row) string { return enName(r.text("dn"), r.text("pn")) })
	seals       = newTable("gasket_b16_20_spiral_wound.csv", "status", "", func(r Row) string { return asmeName(r.text("nps"), r.text("class")) })
)

func asmeName(nps, class string) string { return "ASME B16.5 NPS " + nps + " class " + class }

func enName(dn, pn string) string { return "EN 1092-1 DN " + dn + " PN " + pn }

// Flange is one flange of a standard. A length of 0 is not in the table.
type Flange struct {
	Name       string
	NPS        string // of the pipe; for a DN the one that goes with it, from memory
	Bolts      int
	Thread     string // by the standard: above 1 in the 8-UN series
	Circle     unit.Length
	Hole       unit.Length
	Outside    unit.Length
	Thickness  unit.Length
	RaisedFace unit.Length   // diameter
	Rating     unit.Pressure // PN, 0 for a class: its rating goes with material and temperature
	Hub        Hub
	Mark       Mark
}

// Hub of a weld-neck flange of ASME B16.5; all zero where it is not in the table.
type Hub struct {
	Large  unit.Length // diameter at the flange, X
	Small  unit.Length // diameter at the weld: the pipe's
	Length unit.Length // through the hub, Y
	Bore   unit.Length
	Mark   Mark
}

// FlangeOf finds a flange as people write it: "ASME B16.5 NPS 8 class 300",
// "8 in 300#", "EN 1092-1 DN 200 PN 16", "DN200 PN16".
func FlangeOf(name string) (Flange, error) {
	rows, err := findFlange(name)
	if err != nil {
		return Flange{}, err
	}
	r := rows[0].row
	f := Flange{Name: r.Name, Mark: rows[0].table.markOf(r), Bolts: int(r.number("bolt_count")), Circle: mm(r, "bolt_circle_mm")}
	if r.text("pn") != "" {
		f.Thread = r.text("bolt_size")
		f.NPS = npsOf[r.text("dn")]
		f.Rating = unit.Pressure(r.number("pn") * unit.Bar)
		f.Hole, f.Outside = mm(r, "hole_dia_mm"), mm(r, "flange_od_mm")
		f.Thickness, f.RaisedFace = mm(r, "thickness_mm_type11_one_source"), mm(r, "raised_face_d1_mm_from_memory")
		return f, nil
	}
	f.NPS = r.text("nps")
	f.Thread = r.text("bolt_size_in") + " UNC"
	if r.number("bolt_dia_in") > 1 {
		f.Thread = r.text("bolt_size_in") + "-8 UN"
	}
	f.Hole = inch(r.text("hole_dia_in"))
	f.Outside = unit.Length(r.number("flange_od_in") * unit.Inch)
	f.Thickness, f.RaisedFace = mm(r, "min_thickness_tf_mm"), mm(r, "raised_face_dia_mm")
	for _, h := range rows[1:] {
		f.Hub = Hub{Large: mm(h.row, "hub_large_X_mm"), Small: mm(h.row, "hub_small_pipe_od_mm"),
			Length: mm(h.row, "length_through_hub_welding_neck_Y_mm"), Bore: mm(h.row, "bore_welding_neck_mm_where_given"), Mark: h.table.markOf(h.row)}
	}
	return f, nil
}

// Seal is where a spiral-wound gasket of ASME B16.20 seals.
type Seal struct {
	Name         string
	Inner, Outer unit.Length // diameters of the sealing part
	Mark         Mark
}

// SealOf finds the spiral-wound gasket of a B16.5 flange.
func SealOf(flange string) (Seal, error) {
	rows, err := findSeal(flange)
	if err != nil {
		return Seal{}, err
	}
	r := rows[0].row
	return Seal{Name: "ASME B16.20 spiral wound, " + strings.TrimPrefix(r.Name, "ASME B16.5 "), Inner: mm(r, "sealing_id_mm"),
		Outer: mm(r, "sealing_od_mm"), Mark: rows[0].table.markOf(r)}, nil
}

func mm(r Row, column string) unit.Length { return unit.Length(r.number(column) * unit.Millimetre) }

// inch reads a fraction of an inch of a table, 0 where there is none.
func inch(text string) unit.Length {
	v, err := unit.ParseLength(text + " in")
	if err != nil {
		return 0
	}
	return v
}

var (
	enForm    = pattern.Lazy{Text: `^DN ?(\d+)[ ,/]*PN ?(\d+)$|^PN ?(\d+)[ ,/]*DN ?(\d+)$`}
	classForm = pattern.Lazy{Text: `(?:CLASS|CL\.?|LBS?\.?|#) ?(\d{3,4})|(\d{3,4}) ?(?:#|LBS?\.?)`}
	sizeForm  = pattern.Lazy{Text: `^(\d+[ -]\d/\d|\d+/\d|\d+\.\d+|\d+)$`}
	dnForm    = pattern.Lazy{Text: `^DN ?(\d+)$`}
	bareForm  = pattern.Lazy{Text: `^(\d+[ -]\d/\d|\d+/\d|\d+\.\d+|\d+) *[/X,-]? *(\d{3,4})$`}
)

// npsOf is the NPS that goes with a DN in ASME B16.5 (from memory).
var npsOf = map[string]string{"15": "1/2", "20": "3/4", "25": "1", "32": "1-1/4", "40": "1-1/2", "50": "2", "65": "2-1/2", "80": "3", "90": "3-1/2",
	"100": "4", "125": "5", "150": "6", "200": "8", "250": "10", "300": "12", "350": "14", "400": "16", "450": "18", "500": "20", "550": "22", "600": "24"}

// findFlange finds the flange, and for ASME its hub behind it.
func findFlange(asked string) ([]found, error) {
	if rows := asmeFlanges.named(asked); rows != nil { // as the tables write it
		return append(rows, hubs.named(asked)...), nil
	}
	text := plain(asked)
	if m := enForm.Made().FindStringSubmatch(text); m != nil {
		return findRow(enFlanges, asked, enName(m[1]+m[4], m[2]+m[3]))
	}
	nps, class, ok := npsClass(text)
	if !ok {
		return nil, fmt.Errorf("%q is no flange that can be looked up, write one such as %q or %q", asked, asmeName("8", "300"), enName("200", "16"))
	}
	rows, err := findRow(asmeFlanges, asked, asmeName(nps, class))
	if err != nil {
		return nil, said(func() string {
			return fmt.Sprintf("%q is not in ASME B16.5, near it are %s", asked, quoted(nearFlanges(nps, class)))
		})
	}
	if hub, err := findRow(hubs, asked, asmeName(nps, class)); err == nil {
		rows = append(rows, hub...)
	}
	return rows, nil
}

// nearFlanges are those of the class with the nearest sizes, or those of the
// size where there is no such class.
func nearFlanges(nps, class string) []string {
	var names []string
	at := inch(nps)
	rows := slices.Clone(asmeFlanges.get().Rows)
	slices.SortStableFunc(rows, func(a, b Row) int {
		return cmp.Compare(math.Abs(float64(inch(a.text("nps"))-at)), math.Abs(float64(inch(b.text("nps"))-at)))
	})
	for _, r := range rows {
		if r.text("class") == class {
			names = append(names, r.Name)
		}
	}
	for _, r := range rows {
		if r.text("nps") == nps {
			names = append(names, r.Name)
		}
	}
	if len(names) == 0 {
		return Near(asmeName(nps, class), asmeFlanges.names())
	}
	return names[:min(len(names), 3)]
}

func findSeal(asked string) ([]found, error) {
	if rows := seals.named(asked); rows != nil {
		return rows, nil
	}
	nps, class, ok := npsClass(plain(asked))
	if !ok {
		return nil, fmt.Errorf("%q names no flange of ASME B16.5, whose gasket can be looked up: write one such as %q", asked, asmeName("8", "300"))
	}
	return findRow(seals, asked, asmeName(nps, class))
}

// plain takes the names of the standards and idle words out.
func plain(asked string) string {
	text := strings.ToUpper(strings.Join(strings.Fields(asked), " "))
	for _, w := range []string{"ASME", "ANSI", "DIN", "B16.5", "B 16.5", "B16.20", "EN 1092-1", "EN1092-1", "FLANGE", "SPIRAL WOUND", "WELD NECK", "WN", "RF", ","} {
		text = strings.ReplaceAll(text, w, " ")
	}
	return strings.Join(strings.Fields(text), " ")
}

// noUnit takes inches out, unitApart sets them apart.
var (
	noUnit    = strings.NewReplacer("NPS", "", "INCH", "", "IN.", "", "IN", "", `"`, "")
	unitApart = strings.NewReplacer("NPS", "", "INCH", " ", "IN", " ", `"`, " ")
)

// npsClass reads size and class: "NPS 8 CLASS 300", "8 IN 300#", `8" 300 LB`,
// "DN 200 CLASS 300", "8 300".
func npsClass(text string) (nps, class string, ok bool) {
	if m := classForm.Made().FindStringSubmatch(text); m != nil {
		class = m[1] + m[2]
		text = strings.Join(strings.Fields(strings.Replace(text, m[0], " ", 1)), " ")
		if m := dnForm.Made().FindStringSubmatch(text); m != nil {
			nps, ok = npsOf[m[1]]
			return nps, class, ok
		}
		text = strings.TrimSpace(noUnit.Replace(text))
		text = strings.Trim(text, " -")
	} else {
		text = strings.TrimSpace(unitApart.Replace(text))
		m := bareForm.Made().FindStringSubmatch(strings.Join(strings.Fields(text), " "))
		if m == nil {
			return "", "", false
		}
		text, class = m[1], m[2]
	}
	if !sizeForm.Made().MatchString(text) {
		return "", "", false
	}
	return size(text), class, true
}

// size writes a size as the tables have it: "1 1/2" and "1.5" as "1-1/2".
func size(text string) string {
	text = strings.Replace(text, " ", "-", 1)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	whole := strconv.Itoa(int(v))
	part, ok := map[float64]string{0: "", 0.25: "1/4", 0.5: "1/2", 0.75: "3/4", 0.125: "1/8", 0.375: "3/8"}[v-float64(int(v))]
	switch {
	case !ok:
		return text
	case part == "":
		return whole
	case whole == "0":
		return part
	}
	return whole + "-" + part
}

// findRow finds a row by its whole name.
func findRow(t table, asked, name string) ([]found, error) {
	rows := t.get().Rows
	if i := slices.IndexFunc(rows, func(r Row) bool { return r.Name == name }); i >= 0 {
		return []found{{t, rows[i]}}, nil
	}
	return nil, nowhere(asked, name, t)
}
