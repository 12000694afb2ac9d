package desk
import ("evenload/data/draft"; "evenload/joint"; "evenload/tui/draw")
func Draft(d *draft.Draft, t draw.Theme, on joint.Date) (string, error) { return "", nil }
