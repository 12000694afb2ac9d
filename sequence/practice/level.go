package practice

import "strconv"

// Level is one of training, in the order in which it is taught (common practice).
type Level struct {
	Number  int
	Name    string
	Teaches string
	Joint   int // of the practice joints, 0 the first; of a bench, whose bolts it has
}

// Levels are all of them. The first two are at a bench: no flange, no walk.
var Levels = []Level{
	{1, "one bolt", "a pressure off the chart, set while the tool runs; equal torque is no equal load", 0},
	{2, "two bolts", "a bolt takes load off its neighbour", 2},
	{3, "four bolts", "across, a whole walk, and what goes wrong on the way", 0},
	{4, "eight bolts", "across, then a quarter", 1},
	{5, "twelve bolts", "the same with more to keep in mind", 2},
	{6, "groups", "36 bolts, in groups of neighbours", 3},
	{7, "odd", "nine bolts: none lies straight across", 4},
	{8, "two tools", "two tools at once, each with its own pressure", 5},
}

// OwnJob is practice on a job of the site.
var OwnJob = Level{Number: 0, Name: "a job", Teaches: "this job, before the day"}

// LevelOf finds a level by its number.
func LevelOf(n int) (Level, bool) {
	for _, l := range Levels {
		if l.Number == n {
			return l, true
		}
	}
	return Level{}, false
}

// Bench says that the level is done at a bench, without a walk.
func (l Level) Bench() bool { return l.Number == 1 || l.Number == 2 }

// Text names a level: "level 4 of 8, eight bolts".
func (l Level) Text() string {
	if l.Number == 0 {
		return l.Name
	}
	return "level " + strconv.Itoa(l.Number) + " of " + strconv.Itoa(len(Levels)) + ", " + l.Name
}
