package practice

// sight is what there is to see for a question: as it should be, and as it is when
// something is wrong there. Without bad it is always right.
type sight struct{ good, bad, put string }

// sights by question. They are invented; what is asked and why is in sequence.
var sights = map[string]sight{
	"work": {"The work order says: tighten this flange, by torque wrench, the line out of service.", "", ""},
	"2": {"The permit on the board is of today. It names this joint and your work.",
		"The permit on the board is of yesterday.", "The area authority has signed today's permit."},
	"3": {"Valves are locked, the vent is open, the drain is dry, the gauge reads 0.", "", ""},
	"4": {"Your hand thermometer shows 18 °C.", "", ""},
	"5": {"You and your second person were at this morning's briefing, nobody else is here.",
		"A helper has just come, and he was not at the briefing.", "The helper was briefed."},
	"6": {"Ann gives the word. All know that, and the stop signal.",
		"Two people call \"go\", each for himself.", "Ann alone gives the word now."},
	"7": {"Both faces are clean and bright, without a mark.",
		"A scratch runs across the face on one side, right over where the gasket seals.", "The engineer looked at the face and had it dressed: no mark is left."},
	"8": {"The gasket is out of its bag, with the type and size of the job, and sits in the middle.",
		"The gasket is the one that was in before. It is pressed flat.", "A new gasket of the right type and size is in."},
	"9": {"The flanges stand in line: 0.4 mm off, the holes match.",
		"The pipe springs 4 mm to one side, the holes do not match.", "The pipe support was moved: 0.5 mm off now, without force."},
	"10": {"All studs carry the grade of the job, and each nut runs down by hand.",
		"One nut stops halfway down and has to be forced.", "That stud and nut were changed: it runs down by hand."},
	"11": {"Threads and nut faces shine with the lubricant of the job, the gasket is dry.",
		"Half of the threads are dry.", "All threads and nut faces have the lubricant of the job now."},
	"12": {"Plate, gauge and chart carry the ids that are asked for.",
		"The chart in the box is that of another tool.", "The chart of this tool is here now."},
	"21": {"Each tool has its own regulator and gauge, and its own setting on a card.", "Both tools hang on one regulator.", "Each tool has its own regulator now."},
	"13": {"Hose and regulator are those of the chart, the gauge sits where it did.",
		"The hose is twice as long as the one the chart was made with.", "The hose of the chart is fitted."},
	"14": {"Each coupling has its pin, the hose its restraint.",
		"One coupling has no pin.", "The coupling has its pin."},
	"15": {"The filter bowl is empty, the lubricator drips.",
		"The filter bowl is half full of water.", "The filter was drained, the tool ran, the lubricator drips."},
	"16": {"Chalk numbers run clockwise from the datum, seen from the side that is asked for.",
		"The numbers run the other way round: somebody counted from the other side.", "The numbers were written anew, clockwise from your side."},
	"17": {"The foot rests on the next nut's flats, metal on metal, the backup wrench is tied, all hands are shown.",
		"The foot would rest on an electric conduit.", "The foot has a solid place on the flange now."},
	"18": {"This place is no classified area.", "", ""},
	"19": {"The exhaust goes outside, and a monitor runs.", "", ""},
	"20": {"Tools and laptop are tied, the area below is closed.", "The barrier below is open.", "The area below is closed."},

	"h1":         {"The one before you stands beside you and tells how it stands.", "", ""},
	"h2":         {"The paint marks are those on the screen.", "", ""},
	"h3":         {"Tool, gauge, chart and hose are the same.", "", ""},
	"marks":      {"The paint marks on the flange are at the bolts that the screen names, and at no later one.", "", ""},
	"engagement": {"Every stud stands one or two threads out of its nuts.", "", ""},
	"tag":        {"The tag is filled in and hangs on the joint.", "", ""},
}
