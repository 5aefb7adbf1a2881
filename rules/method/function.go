package method

import (
	_ "embed"
	"encoding/json"
	"strings"
	"sync"

	"platebook/rules/criteria"
)

// Function is a formula that stands in the comment of the function that
// computes it.
type Function struct {
	ID      string   `json:"id"` // room and name: floor/local_to_plan
	Section int      `json:"section"`
	What    string   `json:"what"`
	Formula []string `json:"formula,omitempty"`
	Text    string   `json:"text,omitempty"` // symbols, units, range and what happens outside
	Source  string   `json:"source"`
	Check   string   `json:"check,omitempty"`
}

// Mark is how well the function's source is known, as its text says.
func (f *Function) Mark() criteria.Mark {
	s := strings.ToLower(f.Source)
	switch {
	case strings.Contains(s, "memory"), strings.Contains(s, "verify"):
		return criteria.Memory
	case strings.Contains(s, "practice"):
		return criteria.Practice
	case strings.HasPrefix(s, "derived"):
		return criteria.Derived
	case strings.HasPrefix(s, "api std 653"):
		return criteria.Standard
	}
	return criteria.Public
}

//go:embed functions.json
var functionsJSON []byte

var functions = sync.OnceValue(func() []Function {
	var fs []Function
	if err := json.Unmarshal(functionsJSON, &fs); err != nil {
		panic("method: functions.json: " + err.Error())
	}
	return fs
})

// Functions are the formulas of functions, by section.
func Functions() []Function { return functions() }

// FindFunction is the function of a name, nil without one.
func FindFunction(name string) *Function {
	fs := functions()
	for i := range fs {
		if strings.EqualFold(fs[i].ID, name) {
			return &fs[i]
		}
	}
	return nil
}
