package sequence

// fewestGrouped is the count from which neighbours are taken in groups, so that
// the tool crosses a large flange less often (ASME PCC-1, from memory).
const fewestGrouped = 36

// printedGroups are the orders of groups that ASME PCC-1 prints and the rule of
// star does not make; all from memory, with medium confidence. Groups are
// numbered clockwise from bolt 1, all of one size: three bolts for 36, else four.
// The printed orders for 48 and 64 bolts are those of 12 and 16 places, which
// the rule makes.
//
// With an odd number of groups (44, 52, 60 and 68 bolts) no group lies straight
// across, and in the second half of the last three a group is not always
// followed by the nearest to it.
var printedGroups = map[int][]int{
	36: {1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12},
	40: {1, 6, 4, 9, 2, 7, 5, 10, 3, 8},
	44: {1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6},
	52: {1, 8, 4, 11, 2, 9, 5, 12, 6, 13, 7, 3, 10},
	56: {1, 8, 4, 11, 6, 13, 3, 10, 7, 14, 5, 12, 2, 9},
	60: {1, 8, 12, 4, 2, 10, 6, 14, 3, 9, 13, 5, 11, 15, 7},
	68: {1, 10, 6, 14, 3, 12, 8, 16, 5, 15, 9, 2, 11, 4, 13, 7, 17},
}

// groupCount is how many groups the star of n bolts has by our own rule: as many
// as places below fewestGrouped, and from there the fewest of four at most that
// leave each group another straight across. Groups then hold three or four.
func groupCount(n int) int {
	places := n + n%2
	if n < fewestGrouped {
		return places
	}
	return 2 * ceil(places, 8)
}

// cutGroups cuts places into count groups of neighbours, clockwise from bolt 1.
// Sizes differ by one at most; groups across from each other are alike when
// places and count are even. The last is never the smaller.
func cutGroups(places, count int) [][]Bolt {
	groups := make([][]Bolt, count)
	for k := range count {
		groups[k] = run(k*places/count+1, (k+1)*places/count)
	}
	return groups
}
