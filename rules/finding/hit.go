package finding

// Hit is a rule broken at a place, before keys are made, follow-on findings
// silenced and runs folded. The reader and the checks produce hits; the
// registry of rules turns them into findings.
type Hit struct {
	Rule    string // C104
	Kind    string // contract name of the sheet for the key, "" for the file
	Ref     Ref
	Subject string // row key, value, pair or step id that the key carries
	Column  string // contract header without unit, for findings per cell or column
	Row     string // row label, as typed
	Value   string // as typed
	Message string
	Do      string // in place of the rule's own
	Related []Related
	Worth   float64 // how bad, to pick the message of a folded run
	LastRow int     // last row of a column's values, when the hit is about them all
	Cells   int     // how many cells such a hit stands for
}

// Unusable is an error that makes a whole file unusable: exit code 3.
type Unusable struct {
	Rule    string // F105
	Message string
	Do      string
	Err     error
}

func (u *Unusable) Error() string { return u.Message }

// Unwrap gives the cause.
func (u *Unusable) Unwrap() error { return u.Err }
