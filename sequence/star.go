package sequence

import (
	"math"
	"math/cmplx"
)

// star is the cross pattern for any count, so that the flanges close evenly:
// what is tightened is soon balanced by what lies across.
//
// Multiples of four up to 32 come out exactly as ASME PCC-1 prints its cross
// pattern (from memory; for 28 bolts the place of the last two fours is not
// certain). One rule of our own makes them and every other count:
//
//   - Up to 35 bolts, bolt by bolt. An even count goes by pairs, each bolt followed
//     by the one straight across; where four divides it, by two crossed pairs.
//     Each pair or four starts where the ring is most open (see spread).
//   - From 36 bolts up, group by group: three or four neighbours clockwise, then
//     the group across (see groups.go).
//   - An odd count has nothing straight across. It is ordered like the next even
//     count with its last place left empty, so that each bolt is followed by one
//     of the two nearest to straight across. Of a pair that one goes first which
//     leaves the ring better balanced: the side changes as needed. The pair with
//     the empty place comes last.
//
// How lopsided a part-tightened ring is at worst, as the length of the sum of
// unit vectors to the bolts done, measured for all counts: 1 for even counts
// to 34, 1.38 for odd counts to 35, 4.12 from 36 up (a whole group without the
// one across, and a little), except three printed orders with an odd number of
// groups: 44 bolts 5.18, 52 bolts 4.67, 60 bolts 5.75.
func star(n int) []Bolt {
	if printed, ok := printedGroups[n]; ok {
		var order []Bolt
		groups := cutGroups(n, len(printed))
		for _, g := range printed {
			order = append(order, groups[g-1]...)
		}
		return order
	}
	places := n + n%2
	groups := cutGroups(places, groupCount(n))
	var order, last []Bolt
	var done complex128
	for _, pair := range pairs(len(groups)) {
		a, b := groups[pair[0]], groups[pair[1]]
		short := int(b[len(b)-1]) > n // the empty place is the highest, so it ends the second group
		if short {
			b = b[:len(b)-1]
		}
		pullA, pullB := pull(a, n), pull(b, n)
		// The margin keeps equal choices equal on every processor.
		if len(b) > 0 && cmplx.Abs(done+pullB) < cmplx.Abs(done+pullA)-1e-9 {
			a, b = b, a
		}
		if short {
			last = append(append(last, a...), b...)
			continue
		}
		order = append(append(order, a...), b...)
		done += pullA + pullB
	}
	return append(order, last...)
}

// pull is the sum of the unit vectors from the centre of a ring of n to bolts.
func pull(bolts []Bolt, n int) complex128 {
	var sum complex128
	for _, b := range bolts {
		sum += cmplx.Rect(1, 2*math.Pi*float64(b)/float64(n))
	}
	return sum
}

// pairs orders the pairs of places that lie across from each other on a ring of
// count places, an even number, counted from 0.
func pairs(count int) [][2]int {
	half, starts := count/2, count/2
	if count%4 == 0 {
		starts = count / 4
	}
	var order [][2]int
	for _, s := range spread(starts) {
		order = append(order, [2]int{s, s + half})
		if starts < half {
			order = append(order, [2]int{s + starts, s + starts + half})
		}
	}
	return order
}

// spread orders the places 0 to m-1 of a ring so that each lies where the ring is
// most open: as far as can be from all before it. Of several such, the farthest
// from the one just before is taken, and of those the lowest. A pair repeats
// itself every half turn and a crossed pair every quarter turn, so a ring of
// their starts closes on itself as the whole ring does.
func spread(m int) []int {
	apart := func(a, b int) int {
		d := max(a, b) - min(a, b)
		return min(d, m-d)
	}
	room := make([]int, m) // to the nearest place taken
	for i := range room {
		room[i] = m
	}
	order := make([]int, 0, m)
	next := 0
	for range m {
		order = append(order, next)
		for i := range room {
			room[i] = min(room[i], apart(i, next))
		}
		before := next
		for i := range room {
			if room[i] > room[next] || room[i] == room[next] && apart(i, before) > apart(next, before) {
				next = i
			}
		}
	}
	return order
}
