package joint

// Severity says how much a finding matters.
type Severity string

// The severities. An error stops the work, a warning asks, a note tells.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Note    Severity = "note"
)

// Finding is one thing that a check has to say about a job. Key names the job
// key it is about ("target", "tools.0.curve"); data/job maps it to a line.
type Finding struct {
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`
	Key      string   `json:"key"`
	Text     string   `json:"text"`
}

// Failed says whether any finding is an error.
func Failed(findings []Finding) bool {
	for _, f := range findings {
		if f.Severity == Error {
			return true
		}
	}
	return false
}
