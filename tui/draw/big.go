package draw

// digits are five rows high and five columns wide: a number that is read from
// two metres away. # is on every console, whatever its font.
var digits = map[rune][5]string{
	'0': {" ### ", "#   #", "#   #", "#   #", " ### "},
	'1': {"  #  ", " ##  ", "  #  ", "  #  ", " ### "},
	'2': {"#### ", "    #", " ### ", "#    ", "#####"},
	'3': {"#### ", "    #", " ### ", "    #", "#### "},
	'4': {"#  # ", "#  # ", "#####", "   # ", "   # "},
	'5': {"#####", "#    ", "#### ", "    #", "#### "},
	'6': {" ### ", "#    ", "#### ", "#   #", " ### "},
	'7': {"#####", "    #", "   # ", "  #  ", "  #  "},
	'8': {" ### ", "#   #", " ### ", "#   #", " ### "},
	'9': {" ### ", "#   #", " ####", "    #", " ### "},
	'.': {"  ", "  ", "  ", "  ", "##"},
	'-': {"    ", "    ", "####", "    ", "    "},
}

// Big writes a number in digits five rows high. Other characters are left out.
func Big(text string) []string {
	rows := make([]string, 5)
	for _, r := range text {
		d, ok := digits[r]
		if !ok {
			continue
		}
		for i := range rows {
			if rows[i] != "" {
				rows[i] += "  "
			}
			rows[i] += d[i]
		}
	}
	return rows
}
