// Package hostile makes damaged and hostile input for tests: workbooks, lists
// and photos as they come from broken disks, odd programs and people who mean
// harm, each with what the program must do with it.
//
// Nothing of it is kept as a file: each case is made when it is asked for.
package hostile

import (
	"os"
	"path/filepath"
	"strings"

	"platebook/workbook/textbook"
)

// Mark stands in every formula and script that is put into a person's text:
// no output may hold it where something would be carried out.
const Mark = "EVIL"

// Case is one input and what the program does with it.
type Case struct {
	Kind string // group, as docs/reliability.md lists them
	Name string // unique
	Code int    // exit code
	Says string // a part of what it says, on stdout or stderr
	Args []string
	Make func(dir string) error // writes the input into an empty folder
}

// Cases is the whole corpus.
func Cases() []Case {
	var all []Case
	for _, list := range [][]Case{files(), cut(), zips(), bombs(), xmls(), parts(), cells(), ranges(), texts(), photos(), previous(), lists(), crowds(), sharedTexts()} {
		all = append(all, list...)
	}
	return all
}

// input is the name of the workbook of a case.
const input = "tank.xlsx"

// light is how a case is run when only the reading is in question.
var light = []string{"run", "--only", "xlsx,csv,json", input}

// whole is a run with all outputs that people look at.
var whole = []string{"run", "--only", "xlsx,pdf,html,csv,json", "--photos", input}

// file is a case of one file of given bytes.
func file(kind, name string, code int, says string, data func() []byte) Case {
	return Case{Kind: kind, Name: name, Code: code, Says: says, Args: light, Make: func(dir string) error {
		return os.WriteFile(filepath.Join(dir, input), data(), 0o666)
	}}
}

// book is a case of the clean workbook with edits of package textbook.
func book(kind, name string, code int, says, edits string) Case {
	return file(kind, name, code, says, func() []byte { return Base(edits) })
}

// Base is the clean workbook, its photos left out, with edits.
func Base(edits string) []byte { return edited("delete sheet Photos\n" + edits) }

// edited is the clean workbook with edits.
func edited(edits string) []byte {
	text, err := os.ReadFile(clean)
	if err != nil {
		panic(err)
	}
	b, err := textbook.Build(string(text) + "\n---\n" + edits)
	if err != nil {
		panic(err)
	}
	return b
}

// clean is the clean workbook as text, from the folder of a package two
// levels below the module's.
const clean = "../../testdata/clean-si.txt"

// sheet is the part of a sheet of the clean workbook.
func sheet(name string) string {
	for i, n := range []string{"Tank", "Criteria", "Plates", "Indications", "Prove-ups", "Readings"} {
		if n == name {
			return "xl/worksheets/sheet" + string(rune('1'+i)) + ".xml"
		}
	}
	panic(name)
}

// quoted is a text as package textbook writes it.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`"`, `""`, "\n", `\n`).Replace(text) + `"`
}

// put is a case of the clean workbook in which a part is changed by one
// replacement, which must be possible.
func put(kind, name string, code int, says, part, old, text string) Case {
	return file(kind, name, code, says, func() []byte {
		return rezip(Base(""), func(e entry) []entry {
			if e.name == part {
				if !strings.Contains(e.text, old) {
					panic(name + ": no " + old + " in " + part)
				}
				e.text = strings.Replace(e.text, old, text, 1)
			}
			return []entry{e}
		})
	})
}
