package joint

// metric is a nominal size with its pitches in mm; coarse 0 means that the size
// is never written without its pitch.
type metric struct {
	d, coarse float64
	fine      []float64
}

// metricSeries: sizes and pitches of ISO 261 and ISO 262, from memory; above M68
// the pitch of 6 mm counts as the coarse one. The pitches of 3 mm from M30 to
// M100 are those of ASME PCC-1 Table 1M. The tests hold the published areas
// against them.
var metricSeries = []metric{
	{5, 0.8, nil}, {6, 1, nil}, {7, 1, nil}, {8, 1.25, []float64{1}}, {10, 1.5, []float64{1.25, 1}},
	{12, 1.75, []float64{1.5, 1.25}}, {14, 2, []float64{1.5}}, {16, 2, []float64{1.5}}, {18, 2.5, []float64{2, 1.5}},
	{20, 2.5, []float64{2, 1.5}}, {22, 2.5, []float64{2, 1.5}}, {24, 3, []float64{2}}, {27, 3, []float64{2}},
	{30, 3.5, []float64{3, 2}}, {33, 3.5, []float64{3, 2}}, {36, 4, []float64{3}}, {39, 4, []float64{3}},
	{42, 4.5, []float64{4, 3}}, {45, 4.5, []float64{4, 3}}, {48, 5, []float64{4, 3}}, {52, 5, []float64{4, 3}},
	{56, 5.5, []float64{4, 3}}, {60, 5.5, []float64{4, 3}}, {64, 6, []float64{4, 3}}, {68, 6, []float64{4, 3}},
	{70, 0, []float64{6, 4, 3}}, {72, 6, []float64{4, 3}}, {76, 6, []float64{4, 3}}, {80, 6, []float64{4, 3}},
	{82, 0, []float64{6, 4, 3}}, {85, 6, []float64{4, 3}}, {90, 6, []float64{4, 3}}, {95, 6, []float64{4, 3}}, {100, 6, []float64{4, 3}},
}

// inch is a nominal size with its threads an inch by series, 0 where the
// series has none.
type inch struct {
	size         string
	d            float64
	unc, un, unf float64
}

// inchSeries: UNC, 8-UN and UNF of ASME B1.1, from memory. At 1 in UNC and 8-UN
// are the same thread, which stands here once. The tests hold the published
// areas against them.
var inchSeries = []inch{
	{"1/4", 0.25, 20, 0, 28}, {"5/16", 0.3125, 18, 0, 24}, {"3/8", 0.375, 16, 0, 24}, {"7/16", 0.4375, 14, 0, 20},
	{"1/2", 0.5, 13, 0, 20}, {"9/16", 0.5625, 12, 0, 18}, {"5/8", 0.625, 11, 0, 18}, {"3/4", 0.75, 10, 0, 16},
	{"7/8", 0.875, 9, 0, 14}, {"1", 1, 8, 0, 12}, {"1-1/8", 1.125, 7, 8, 12}, {"1-1/4", 1.25, 7, 8, 12},
	{"1-3/8", 1.375, 6, 8, 12}, {"1-1/2", 1.5, 6, 8, 12}, {"1-5/8", 1.625, 0, 8, 0}, {"1-3/4", 1.75, 5, 8, 0},
	{"1-7/8", 1.875, 0, 8, 0}, {"2", 2, 4.5, 8, 0}, {"2-1/4", 2.25, 4.5, 8, 0}, {"2-1/2", 2.5, 4, 8, 0},
	{"2-3/4", 2.75, 4, 8, 0}, {"3", 3, 4, 8, 0}, {"3-1/4", 3.25, 4, 8, 0}, {"3-1/2", 3.5, 4, 8, 0},
	{"3-3/4", 3.75, 4, 8, 0}, {"4", 4, 4, 8, 0},
}
