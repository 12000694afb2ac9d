package reference

// findings are what check can say. A test holds the list against what comes up.
var findings = newTable("findings.csv", "", "", func(r Row) string { return r.text("code") })

// FindingCodes are the codes that findings carry.
func FindingCodes() []string { return findings.names() }
