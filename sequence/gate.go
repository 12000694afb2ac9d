package sequence

import (
	"fmt"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
)

// Headings of the questions.
const (
	headPermission = "PERMISSION"
	headReady      = "JOINT READY"
	headNumbers    = "NUMBERING"
	headTool       = "TOOL AND AIR"
	headPeople     = "REACTION AND PEOPLE"
	headHandover   = "HANDOVER"
	headResume     = "BACK AT THE FLANGE"
	headEnd        = "BEFORE CLOSING"
)

// engagementQuestion asks about the thread in the nuts.
const engagementQuestion = "engagement"

// workQuestion asks what the work is.
const workQuestion = "work"

// tailOf is how many of the tag's last characters are typed to say which joint it is.
const tailOf = 3

// mostWarm is what a hand can stay on (common practice).
const mostWarm = unit.Temperature(40)

// usualAlignment is in both units as ASME PCC-1 Appendix E prints them, the inches from memory.
func usualAlignment(system unit.System) string {
	if system == unit.US {
		return "centre lines 1/16 in, faces 1/32 in, holes 1/8 in"
	}
	return "centre lines 1.5 mm, faces 0.8 mm, holes 3 mm"
}

// questions lists what is asked for a joint, in order. The questions, their
// order and what follows a no are common practice of the trade; the site's own
// procedure and permit come before them.
func questions(about About, c Conditions, tools []joint.Tool, measured bool, system unit.System) []Question {
	tag := about.Tag
	if len(tag) > tailOf {
		tag = tag[len(tag)-tailOf:]
	}
	lubricant := about.Lubricant
	if lubricant == "" {
		lubricant = "the stated lubricant"
	}
	datum := about.Datum
	if about.Bolt1OnDatum {
		datum += " (bolt 1 is on it)"
	}
	all := make([]Question, 0, 30)
	add := func(id, heading, text, why, ifNo string, onNo OnNo) *Question {
		all = append(all, Question{ID: id, When: AtGate, Heading: heading, Text: text, Why: why, IfNo: ifNo, OnNo: onNo})
		return &all[len(all)-1]
	}
	if c.HazardousArea {
		add("18", headPermission, "Is this laptop allowed here?",
			"Ordinary electronics can ignite gas in a classified area.",
			"Take it out. Get the permit, or work from a printed sheet.", StayOpen)
	}
	add("1", headPermission, "Tag reads? Type its last three characters.",
		"Work on the wrong joint breaks a good one and leaves a bad one.",
		"Stop. Find the joint on the work order.", StayOpen).Typed = tag
	add(workQuestion, headPermission, "Is the work only to tighten a bolted flange, by torque wrench?",
		"Loosening, work in service, leaks, tensioners and clamp connectors have other procedures.",
		"STOP PAGE. Say what the work is: the page tells whom to ask.", StopPage)
	q := add("2", headPermission, "Is the permit live today, with your work on it?",
		"The permit says that others keep this line safe while you work.",
		"Stop. See the area authority.", StayOpen)
	q.AfterBreak, q.MayNot = true, c.NeverConnected
	if about.ApprovedBy == "" {
		q = add("approval", headPermission, "This job file is not approved. Has the responsible engineer said to work by it?",
			"A wrong torque breaks bolts or crushes the gasket, in perfect order.",
			"Stop. Have the engineer look at evenload plan of this job.", StayOpen)
		q.Asks = []Asked{{Label: "Responsible engineer", Other: true}}
	}
	q = add("3", headPermission, "Is the line isolated, vented, drained, proven at zero?",
		"Pressure behind the joint comes out past a moving nut.",
		"STOP PAGE. Do not touch the nuts.", StopPage)
	q.AfterBreak, q.MayNot = true, c.NeverConnected
	add("4", headPermission, "Is the joint cold, below "+mostWarm.Text(system)+"?",
		"A hot joint burns, and its bolts hold another load when cold.",
		"STOP PAGE. Hot work on bolts has its own procedure.", StopPage).MayNot = c.NeverConnected
	add("5", headPermission, "Was everyone here briefed today?",
		"Helpers who come late get hurt.",
		"Brief them or send them away.", StayOpen)
	add("6", headPermission, "Does one named person alone give the word?",
		"In noise only one voice works.",
		"Name the person, agree on the stop signal.", StayOpen)
	add("7", headReady, "Are both faces clean and undamaged?",
		"Bolts cannot make up for a bad face.",
		"Clean. Damage: the responsible engineer decides.", Override)
	if measured { // before the gasket goes in
		add("9", headReady, "How do the flanges line up, without force? Measure at the rim, before the gasket goes in.",
			alignmentWhy, alignmentNo, Override).Measured = true
		add("22", headReady, "Do the flanges come together by hand, or with less than 10 % of the bolts' load?",
			alignmentWhy+" 10 % is the usual limit (ASME PCC-1 Appendix E, from memory).", alignmentNo, Override)
	}
	add("8", headReady, "Is the gasket new, right type and size, centred?",
		"Bolts cannot make up for a used or wrong gasket.",
		"Stop. Get the right gasket.", StayOpen)
	if !measured {
		add("9", headReady, "Do flanges line up within limits, without force?",
			alignmentWhy+" Usual limits: "+usualAlignment(system)+".", alignmentNo, Override)
	}
	add("10", headReady, "Are studs, nuts right grade and length, running free?",
		"A nut that binds uses up the torque: little of it becomes load.",
		"Replace or clean before the first pass.", StayOpen)
	add("11", headReady, "Is "+lubricant+" on threads and nut faces, not the gasket?",
		"The torque holds for one friction only.",
		"Lubricate, or ask the engineer for another torque.", StayOpen)
	texts := toolTexts(tools)
	several, letters := len(tools) > 1, allLetters(tools)
	of := func(one, all string) string {
		if several {
			return all
		}
		return one
	}
	add("12", headTool, texts["12"],
		"A chart fits one tool only.",
		"Fetch the right tool, or load its chart.", StayOpen)
	if several {
		add("21", headTool, "Has each tool, "+letters+", its own chart and setting, its own regulator?",
			"Tools differ: the same pressure gives each another torque. Shared air sags when all run.",
			"Give each its own regulator and gauge, and a supply that carries all.", StayOpen)
	}
	add("13", headTool, of("Are hose, regulator, gauge position as on the chart?", "Are hoses, regulators, gauge positions of "+letters+" as on their charts?"),
		"Another hose changes the pressure at stall: the chart no longer fits.",
		"Fit the right hose, or have the tool checked with this one.", Override)
	add("14", headTool, of("Are couplings pinned, whip restraints on, hose cut-off where required?", "Are couplings of "+letters+" pinned, whip restraints on, hose cut-offs where required?"),
		"A loose hose whips. Above 1/2 in (12.7 mm) bore many rules want a cut-off at the source.",
		"Fix it before the air goes on.", StayOpen).MayNot = true
	add("15", headTool, of("Is air clean, filter drained, lubricator dripping?", "Is air of "+letters+" clean, are filters drained, lubricators dripping?"),
		"A wet or dry motor loses torque.",
		"Drain, fill, let the tool run.", StayOpen).MayNot = true
	add("16", headNumbers, "Are bolts numbered clockwise from "+datum+", seen from the "+about.ViewedFrom+"?",
		"Counted from the other side, the order is mirrored.",
		"Number them again.", StayOpen)
	add("17", headPeople, of("Foot on solid metal, backup wrench restrained, hands' places shown?",
		"Feet on metal, off others' nuts, backup wrenches restrained, hands' places shown?"),
		"The whole reaction force goes through the foot. Fingers are lost between it and its stop.",
		"Find another place for the foot. Show again where hands stay.", StayOpen).AfterBreak = true
	if c.DriveGas != "" && !strings.EqualFold(c.DriveGas, "air") {
		add("19", headPeople, "Is gas exhaust ventilated and monitored?",
			"Exhaust of "+c.DriveGas+" can take the oxygen away unseen.",
			"Stop. Ventilate and monitor, or use air.", StayOpen).AfterBreak = true
	}
	if c.AtHeight {
		add("20", headPeople, "Are tools tethered, area below closed?",
			"Falling tools kill.",
			"Tether everything, this laptop too. Close the area below.", StayOpen)
	}
	return append(all,
		Question{ID: "h1", When: AtHandover, Heading: headHandover, Text: "Did you speak with the one before you, face to face?",
			Why: "What is not on the screen is lost otherwise.", IfNo: "Find the person. If that cannot be, the foreman decides.", OnNo: Override},
		Question{ID: "h2", When: AtHandover, Heading: headHandover, Text: "Do the marks on the flange match this screen?",
			Why: "People think they are further on than they are.", IfNo: marksNo, OnNo: Override},
		Question{ID: "h3", When: AtHandover, Heading: headHandover, Text: texts["h3"],
			Why: "A chart fits one tool only.", IfNo: "Fetch the right ones.", OnNo: StayOpen},
		Question{ID: "marks", When: AtResume, Heading: headResume, Text: "Do the last marks on the flange match these bolts?",
			Why: "After an interruption people think they are further on than they are.", IfNo: marksNo, OnNo: Override},
		Question{ID: "air", When: AtEnd, Heading: headEnd, Text: of("Is the air off at its source, the hose vented, the tool off the joint?",
			"Is the air off at its source, are all hoses vented, all tools off the joint?"),
			Why:  "A hose under pressure whips when it is taken off, and a tool left on it can start.",
			IfNo: "Close the air, vent through the tool, then take it off.", OnNo: StayOpen},
		Question{ID: engagementQuestion, When: AtEnd, Heading: headEnd, Text: "Is every stud flush with its nuts, or beyond?",
			Why: "A nut that is not filled with thread can strip.", IfNo: "The responsible engineer decides.", OnNo: Override},
		Question{ID: "tag", When: AtEnd, Heading: headEnd, Text: "Is the joint's tag filled in and left on it?",
			Why: "The test crew goes by the tag.", IfNo: "Fill it in.", OnNo: StayOpen},
	)
}

// marksNo is what to do when marks and screen differ. What lies behind the pass
// under way cannot be taken back: then a named person decides.
const marksNo = "Take back bolts with u until the screen matches. Where u does not reach, the responsible engineer decides."

// The question about alignment, answered by a yes or by readings.
const (
	alignmentWhy = "Pulling in with the bolts uses up their load."
	alignmentNo  = "Stop. The responsible engineer decides."
)

// toolTexts are the questions that name the tools.
func toolTexts(tools []joint.Tool) map[string]string {
	if len(tools) > 1 {
		names := sets(tools) + "?"
		return map[string]string{"12": "Are these tools and gauges in use, each with its chart: " + names,
			"h3": "Are these the ones in use, with their charts and hoses: " + names}
	}
	names := "Are tool " + OrNone(tools[0].ID) + ", gauge " + OrNone(tools[0].Gauge.ID)
	return map[string]string{"12": names + ", and chart one set?", "h3": names + ", their chart and hose the ones in use?"}
}

// allLetters lists the tools: "A and B", "A, B, C and D".
func allLetters(tools []joint.Tool) string {
	var all []string
	for slot := range tools {
		all = append(all, Letter(slot))
	}
	last := len(all) - 1
	return strings.TrimPrefix(strings.Join(all[:last], ", ")+" and "+all[last], " and ")
}

// sets names every tool with its gauge: "A W-21 with G-41, B W-22 with G-42".
func sets(tools []joint.Tool) string {
	var parts []string
	for slot, t := range tools {
		parts = append(parts, fmt.Sprintf("%s %s with %s", Letter(slot), OrNone(t.ID), OrNone(t.Gauge.ID)))
	}
	return strings.Join(parts, ", ")
}

// OrNone is an id as the job has it, or that it has none.
func OrNone(id string) string {
	if id == "" {
		return "(no id)"
	}
	return id
}
