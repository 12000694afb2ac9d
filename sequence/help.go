package sequence

// Help says what a step is for, for who does it the first time. Each is common
// practice of the trade.
func Help(s Step) []string {
	if words := teamHelp(s); words != nil {
		return words
	}
	switch s := s.(type) {
	case SignOn:
		return []string{"Who signs on works the tool and answers for every mark. Somebody else takes over by signing on with his own name.",
			"A trainee signs on with a supervisor, who is named on every screen and in the record. A qualification that has expired is let count by a named person only."}
	case Ask:
		return []string{"One question at a time, each because somebody was hurt or a joint leaked. Yes means it is safe. Not sure: answer no. A no is no failure: it says what has to be put right first."}
	case Materials:
		return []string{"When a batch turns out bad later, the record tells which joints have it. Temperature matters where studs are measured, and for lubricants."}
	case Snug:
		return []string{"By hand the gasket finds its place and the gap closes evenly. A gap that is uneven now stays uneven."}
	case GapCheck:
		return []string{"The gap tells whether the flanges close evenly, which no torque does. Spread is the widest gap less the narrowest. An even gap with all bolts alike is what every pass is for."}
	case Set:
		return []string{"The tool stops when its torque is reached, and the pressure decides at which. The chart was made with the tool running free, or at rest, as it says: set and read in that state. While running the gauge shows less than at rest, since the air flows.",
			"Always come up to the pressure from below: coming down, the regulator sticks and holds more than it shows."}
	case Tighten:
		return []string{"A bolt, then one across, on a ring then a quarter round, on a cover from the middle outward. Each bolt that is tightened takes load off its neighbours, so that going round would tilt the flange.",
			"Several passes at rising torque for the same reason: the whole load at once crushes the gasket on one side."}
	case Check:
		return []string{"Each bolt took load off those tightened before it. Rounds at full torque bring it back: round the joint now, until no nut moves. Moved is no fault, it is what the round is for."}
	case Rest:
		return []string{"A gasket goes on giving way for hours after it was loaded, most in the first ones, and the bolts lose load with it. After the rest the rounds make up for that."}
	case Release:
		if s.Of == OfHold {
			return []string{"A hold point is where the foreman wants somebody else to look before the work goes on. The witness is named in the record, with what was looked at. Nobody who worked the tool can be it."}
		}
		return []string{"What is held here is not for the operator to decide. The person who does is named in the record, with the reason."}
	case Stretch:
		return []string{"How much a stud has grown tells its load better than torque does, if it is long enough: load is stretch by stiffness. Modulus, length and reading are known to a few per cent only, so the load is still an estimate."}
	case LeakTest:
		return []string{"The result closes this card. A joint that leaked is never tightened under pressure: depressurise, look for the cause, begin a new card. That card names this one."}
	case Close:
		return []string{"The witness looks at joint and screen. The seal that follows goes on the tag: it fits this card only."}
	case Stop:
		return []string{"Whoever stops the work is never wrong. What made it stop is dealt with first, under a permit."}
	}
	return nil
}
