package reference

// findings are what check can say. A test holds the list against what comes up.
var findings = newTable("findings.csv", "", "", func(r Row) string { return r.text("code") })

// FindingSeverities gives for each code that findings carry the severity that
// the list has: "warning", "error or warning".
func FindingSeverities() map[string]string {
	all := map[string]string{}
	for _, r := range findings.get().Rows {
		all[r.Name] = r.text("severity")
	}
	return all
}
