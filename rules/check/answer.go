package check

import (
	"fmt"
	"strings"
	"unicode"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// leastReason is the fewest letters of a reason.
const leastReason = 10

// answer puts the answers beside the findings they count for, and says which
// do not count and why.
func answer(in *inspection.Inspection, list []entry) []finding.Hit {
	at := make(map[string]int, len(list))
	for i := range list {
		at[plain(list[i].Key)] = i
	}
	faulty := make(map[finding.Ref]bool) // rows with an error of their own
	for i := range list {
		if f := &list[i]; f.Severity == finding.Error && f.Ref.IsCell() {
			faulty[finding.Ref{Sheet: f.Ref.Sheet, Row: f.Ref.Row}] = true
		}
	}
	var hits []finding.Hit
	for n := range in.Answers {
		a := &in.Answers[n]
		if why := incomplete(in, a); why != "" {
			if !a.InSheet && faulty[rowRef(&a.Row)] {
				continue // an empty name or a wrong date is told as that
			}
			hits = append(hits, answerHit("Q501", a, a.Answer.Ref, a.Answer.Text, why))
			continue
		}
		counted, why := 0, ""
		for i, key := range a.Findings.Value {
			reason := ""
			f, ok := at[plain(key)]
			switch {
			case !ok:
				reason = fmt.Sprintf("%s answers no finding any more", key)
			case list[f].Severity == finding.Note:
				reason = fmt.Sprintf("%s is a note and needs no answer", key)
			case list[f].Severity != finding.Warning:
				reason = fmt.Sprintf("%s is an error and cannot be answered, only put right", key)
			case a.Until.OK() && in.AsOf > a.Until.Value:
				reason = fmt.Sprintf("it held until %s", a.Until.Value)
			case a.InSheet && !stands(a, i, list[f].Value):
				reason = fmt.Sprintf("answered for %s, now %s", orNothing(valueThen(a, i)), orNothing(list[f].Value))
			}
			if reason != "" {
				if why == "" {
					why = reason
				}
				if a.InSheet && i == 0 && ok {
					break // the entry it was given for is another one now
				}
				continue
			}
			counted++
			if list[f].Answer == nil {
				list[f].Answer = &finding.Answer{
					Text: a.Answer.Value, By: a.By.Value, Date: a.Date.Value.String(),
					Until: a.Until.Value.String(), Ref: a.Answer.Ref,
				}
			}
		}
		// a folded entry of the last run may have lost some of its rows since
		if why != "" && (!a.InSheet || counted == 0) {
			ref := a.Findings.Ref
			if !ref.IsCell() {
				ref = a.Answer.Ref
			}
			hits = append(hits, answerHit("Q502", a, ref, a.Findings.Text, why))
		}
	}
	return hits
}

// valueThen is the value that the nth key of an answer was given for.
func valueThen(a *inspection.Answer, n int) string {
	if n < len(a.Values) {
		return a.Values[n]
	}
	return a.Value
}

// stands says whether a finding still has the value that it was answered
// for. Of a run whose values the file does not keep, the first one counts.
func stands(a *inspection.Answer, n int, now string) bool {
	if n > 0 && n >= len(a.Values) {
		return true
	}
	return strings.TrimSpace(valueThen(a, n)) == strings.TrimSpace(now)
}

func answerHit(rule string, a *inspection.Answer, ref finding.Ref, value, message string) finding.Hit {
	kind := "Answers"
	if a.InSheet {
		kind = "Findings"
	}
	key := a.Key
	if key == "" && len(a.Findings.Value) > 0 {
		key = a.Findings.Value[0]
	}
	return finding.Hit{Rule: rule, Kind: kind, Ref: ref, Subject: key, Row: key, Value: value, Message: message}
}

// incomplete says what an answer lacks, "" when nothing.
func incomplete(in *inspection.Inspection, a *inspection.Answer) string {
	letters := 0
	for _, r := range a.Answer.Value {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			letters++
		}
	}
	switch {
	case !a.Answer.OK():
		return "no reason given"
	case letters < leastReason:
		return fmt.Sprintf("“%s” gives no reason: %d letters or more", a.Answer.Text, leastReason)
	case !a.By.OK() || strings.TrimSpace(a.By.Value) == "":
		return "no name given"
	case !a.Date.OK():
		return "no date given"
	case in.AsOf != 0 && a.Date.Value > in.AsOf:
		return fmt.Sprintf("dated %s, after the report date %s", a.Date.Value, in.AsOf)
	}
	return ""
}

// plain makes a key that a person copied comparable.
func plain(key string) string {
	return strings.ToLower(strings.Join(strings.Fields(key), " "))
}

func orNothing(s string) string {
	if strings.TrimSpace(s) == "" {
		return "nothing"
	}
	return s
}
