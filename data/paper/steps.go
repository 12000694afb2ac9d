package paper

import (
	"fmt"
	"strings"

	"evenload/data/report"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// pass is one pass: each tool's pressure large, its readings, the order to tick.
func (s sheet) pass(i int) {
	pass := s.plan.Passes[i]
	s.hold(sequence.HoldBeforePass, i+1)
	s.room(46 + 16*float64(len(pass.Settings)) + 11)
	load := unit.Force(float64(s.plan.Aim.Load) * float64(pass.Share))
	s.section(fmt.Sprintf("PASS %d of %d   %s   about %s, bolt load about %s", i+1, len(s.plan.Passes), pass.Share.Text(), pass.Settings[0].Torque.Text(s.plan.System), load.Text(s.plan.System)))
	s.settings(pass.Settings)
	if s.plan.Several() {
		s.say(sequence.TeamHint + " " + sequence.TeamArms)
	} else {
		s.say(sequence.TightenHint)
	}
	s.say(sequence.ProblemHint)
	s.y += 2
	s.grid(s.plan.Stations, tickWord+togetherWord(s.plan))
	s.room(8)
	s.y += 2
	s.blank(edge, s.y, 60, "begun, time")
	s.blank(edge+64, s.y, 60, "ended, time")
	s.y += 4
	s.blanks("READ AGAIN at the end", "do the pass again", pass.Settings)
	s.gaps("the pass at "+pass.Share.Text(), s.plan.GapSpread.Text(s.plan.System), nil)
}

// settings are the pressures of the tools, large.
func (s sheet) settings(all []joint.Setting) {
	s.face("B", body)
	if len(all) > 1 {
		s.say(sequence.TeamSetCaution)
	} else {
		s.say(sequence.SetCaution)
	}
	s.face("", body)
	if len(all) > 1 {
		s.say(teamSet)
	}
	for slot, set := range all {
		tool := s.plan.Tools[slot]
		s.room(16)
		s.y += 7
		s.face("B", 26)
		name := tool.Gauged(set.Set)
		if s.plan.Several() {
			name = sequence.Letter(slot) + "  " + name
		}
		s.put(edge, s.y, name)
		x := edge + max(54, s.width(name)+6)
		s.face("B", body)
		s.put(x, s.y-4.4, report.SetState(tool)+": turn UP to it; tool "+sequence.OrNone(tool.ID)+", gauge "+sequence.OrNone(tool.Gauge.ID)+" at the "+string(tool.GaugeAt))
		s.face("", body)
		words := "in band " + tool.Band(set) + "   gives " + set.Delivered.Text(s.plan.System)
		if set.Foot > 0 {
			words += "   foot " + set.Foot.Text(s.plan.System) + " on its stop"
		}
		s.put(x, s.y, words)
		s.y += 4
		s.put(x, s.y+2, "read back")
		s.blank(x+18, s.y+2, 34, "running")
		s.blank(x+54, s.y+2, 30, "at rest")
		s.blank(x+87, s.y+2, s.w-edge-x-87, "by")
		s.y += 7
	}
}

// blanks are for the readings at the end of a pass or of check rounds.
func (s sheet) blanks(words, low string, all []joint.Setting) {
	judged := "Low: " + low + ". High: stop. " + sequence.StallsHigh
	s.room(8*float64(len(all)) + s.tall(judged)) // no reading without what it stands for
	for slot, set := range all {
		tool := s.plan.Tools[slot]
		s.y += 3
		s.face("B", body)
		s.put(edge, s.y, strings.TrimSpace(letter(s.plan, slot)+" "+words))
		s.face("", body)
		s.put(edge+48, s.y, "in band "+tool.Band(set))
		s.blank(edge+98, s.y, 44, string(tool.Gauge.Unit)+" "+sequence.State(tool))
		s.blank(edge+146, s.y, s.w-2*edge-146, "by")
		s.y += 5
	}
	s.say(judged)
}

// grid is the order, station by station, each with room for initials.
func (s sheet) grid(stations []sequence.Station, how string) {
	wide := 22.5
	if s.plan.Several() {
		wide = 45
	}
	const tall = 9.0
	n := int((s.w - 2*edge) / wide)
	for i, st := range stations {
		if i%n == 0 {
			s.room(tall)
		}
		x, y := edge+wide*float64(i%n), s.y-4
		s.pdf.SetLineWidth(0.2)
		s.pdf.Rect(x, y, wide, tall, "D")
		s.face("", 6)
		s.put(x+0.8, y+2.6, fmt.Sprint(i+1))
		s.face("B", 11)
		label := fmt.Sprint(st[0])
		if s.plan.Several() {
			var parts []string
			for slot, b := range st {
				parts = append(parts, fmt.Sprintf("%s %d", sequence.Letter(slot), b))
			}
			label = strings.Join(parts, "  ")
			if len(st) > 2 {
				s.face("B", 8)
			}
		}
		s.put(x+4, y+6.3, label)
		s.box(x+wide-8.6, y+5.8)
		s.pdf.SetLineWidth(0.2)
		s.pdf.Line(x+wide-4.4, y+tall-1.6, x+wide-0.6, y+tall-1.6)
		if i%n == n-1 || i == len(stations)-1 {
			s.y += tall
		}
	}
	s.face("", 7)
	s.put(edge, s.y-1, how)
	s.face("", body)
	s.y += 4
}

const tickWord = "in this order, from left to right: tick after the stall, then initials"

func togetherWord(plan *sequence.Plan) string {
	if !plan.Several() {
		return ""
	}
	return "; all tools of a station start on one word, done when the slowest has stalled"
}

// rounds is a grid to mark still or moved in each check round.
func (s sheet) rounds(head string) {
	last := s.plan.Passes[len(s.plan.Passes)-1].Settings
	const wide, tall = 11.25, 6.4
	s.room(64 + tall*float64(s.plan.CheckRounds+2))
	words := s.plan.RoundWord() + " from bolt 1, until no nut moves, at most " + fmt.Sprint(s.plan.CheckRounds)
	if s.plan.Several() {
		words += ", with tool A alone"
	}
	s.section(head + ": " + words)
	s.say(sequence.CheckHint + " " + sequence.StillWord)
	s.settings(last[:1])
	s.say("Write = for still, m for moved. A round with an m is followed by another.")
	per := int((s.w - 2*edge - 22.5) / wide)
	for from := 0; from < s.plan.Bolts; from += per {
		to := min(s.plan.Bolts, from+per)
		s.room(tall * float64(s.plan.CheckRounds+2))
		s.y += 3
		for row := 0; row <= s.plan.CheckRounds; row++ {
			s.pdf.SetLineWidth(0.2)
			s.face("B", 8)
			if row > 0 {
				s.put(edge, s.y, fmt.Sprintf("round %d", row))
			} else {
				s.put(edge, s.y, "bolt")
			}
			for b := from; b < to; b++ {
				x := edge + 22.5 + wide*float64(b-from)
				if row == 0 {
					s.middle(x+wide/2, s.y, fmt.Sprint(b+1))
					continue
				}
				s.pdf.Rect(x, s.y-4.3, wide, tall, "D")
			}
			s.y += tall
		}
	}
	s.face("", body)
	s.room(8)
	s.y += 1
	s.blank(edge, s.y, 80, "still in round")
	s.blank(edge+84, s.y, 40, "by")
	s.blank(edge+128, s.y, s.w-2*edge-128, "time")
	s.y += 5
	s.blanks("READ AGAIN at the end", "do all check rounds again", last[:1])
}

// letter is that of a tool where a job has several, else empty.
func letter(plan *sequence.Plan, slot int) string {
	if !plan.Several() {
		return ""
	}
	return sequence.Letter(slot)
}

// singly are bolts as stations of one, as a hand wrench takes them.
func singly(bolts []sequence.Bolt) []sequence.Station {
	stations := make([]sequence.Station, len(bolts))
	for i, b := range bolts {
		stations[i] = sequence.Station{b}
	}
	return stations
}
