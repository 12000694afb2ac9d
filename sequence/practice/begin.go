package practice

// beginTask tells once, before the first question, how a practice goes.
func (r *Run) beginTask() Task {
	if r.done["begin"] {
		return Task{}
	}
	return told("begin", "PRACTICE, "+r.Level.Text(),
		"It teaches: "+r.Level.Teaches+".",
		"Questions and screens are those of the walk. YOU SEE says what there is to see at the joint: answer by it, with no where something is wrong.",
		"Now and then it is asked which bolt comes next. A wrong answer is told, with why; then the practice goes on as is right.",
		"The mark counts even load, order, checks and safety. It stands on the log, which your supervisor signs.",
		LeaveWord)
}
