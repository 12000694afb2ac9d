package window

import "os"

// hangUps is empty: a console that closes ends the program, and every bolt is
// on the disk already.
var hangUps []os.Signal
