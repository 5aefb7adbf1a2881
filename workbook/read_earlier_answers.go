package workbook

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook/xlsx"
)

// resultNames are the sheets a run writes, each with its name as title in A1.
var resultNames = []string{
	"Summary", "Findings", "Calculation", "Plate results", "Indication results", "Repairs", "Cutting list",
	"Thresholds", "Sizing", "Statistics", "Settlement results", "Comparison", "Record",
}

// resultName says whether a sheet can be one of the program's by its name,
// with or without a number behind it: a person's own never counts, whatever
// the file says of it.
func resultName(name string) bool {
	for _, own := range resultNames {
		if rest, ok := strings.CutPrefix(name, own); ok && (rest == "" || strings.HasPrefix(rest, " (") && strings.HasSuffix(rest, ")")) {
			return true
		}
	}
	return false
}

// unmarkedResults are the program's sheets in a results workbook that another
// program saved without the custom property that names them. A Findings and a
// Record sheet under their own titles give it away; a person's table has its
// headers there.
func unmarkedResults(file *xlsx.Book) []string {
	if file.Sheet("Findings") == nil || file.Sheet("Record") == nil {
		return nil
	}
	var names []string
	found := 0
	for _, name := range resultNames {
		s := file.Sheet(name)
		if s == nil {
			continue
		}
		g, err := s.Read()
		if err != nil {
			return nil // reading it again tells why
		}
		if g.At(1, 1).Text != name {
			continue
		}
		names = append(names, name)
		if name == "Findings" || name == "Record" {
			found++
		}
	}
	if found < 2 {
		return nil
	}
	return names
}

// EarlierAnswers are the answers that people typed into the Findings sheet of
// an earlier results workbook: none when there is no such file. The error says
// why the file must not be replaced: it cannot be read, so that nobody knows
// what was answered in it, it is none of the program's, or it is of another
// tank than the one now at work (ErrOtherTank): an answer for one must not
// count for the other.
func EarlierAnswers(path string, now *inspection.Tank) ([]inspection.Answer, error) {
	file, err := xlsx.Open(path)
	if err != nil {
		var u *finding.Unusable
		if errors.Is(err, fs.ErrNotExist) || errors.As(err, &u) && errors.Is(u.Err, fs.ErrNotExist) {
			return nil, nil
		}
		return nil, err
	}
	own := resultSheets(file)
	if err := otherTank(ownSheet(file, own, "Summary"), now); err != nil {
		return nil, err
	}
	for _, name := range own {
		if foldHeader(name) != "findings" {
			continue
		}
		g, err := file.Sheet(name).Read()
		if err != nil {
			return nil, err
		}
		return answersInFindings(name, g, file.Date1904), nil
	}
	return nil, errors.New("it is no results workbook of this program")
}

// ErrOtherTank says that results are of another tank.
var ErrOtherTank = errors.New("it holds the results of another tank")

// otherTank holds what the Summary of earlier results tells against the tank
// now at work: its label and its site.
func otherTank(s *xlsx.Sheet, now *inspection.Tank) error {
	if s == nil {
		return nil
	}
	g, err := s.Read()
	if err != nil {
		return err
	}
	told := map[string]string{}
	for i := range min(len(g.Rows), 12) {
		told[g.Rows[i].Cell(1).Text] = g.Rows[i].Cell(2).Text
	}
	for _, is := range [][2]string{{told[summaryTank], now.Tank.Text}, {told[summarySite], now.Site.Text}} {
		if is[0] != "" && is[1] != "" && inspection.Fold(is[0]) != inspection.Fold(is[1]) {
			return fmt.Errorf("%w, %s (%s)", ErrOtherTank, told[summaryTank], told[summarySite])
		}
	}
	return nil
}
