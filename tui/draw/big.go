package draw

// digits are five rows high: a number that is read from two metres away. # is
// on every console, whatever its font, and one cell wide in every locale.
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
	' ': {"   ", "   ", "   ", "   ", "   "},
}

// unknown stands for a character that has no large shape. It is drawn, because
// a number with a character left out is another number.
var unknown = [5]string{" ### ", "#   #", "  ## ", "     ", "  #  "}

// Big writes a number of digits, point, minus and space in five rows of equal
// width. Every other character becomes a large question mark.
func Big(text string) []string {
	rows := make([]string, 5)
	for i, r := range text {
		d, ok := digits[r]
		if !ok {
			d = unknown
		}
		for row := range rows {
			if i > 0 {
				rows[row] += "  "
			}
			rows[row] += d[row]
		}
	}
	return rows
}
