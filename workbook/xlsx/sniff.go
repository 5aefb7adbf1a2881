package xlsx

import (
	"bytes"
	"encoding/binary"
	"io"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"platebook/rules/finding"
)

const (
	saveAs  = "Save as .xlsx."
	orMake  = "Give an .xlsx workbook; `platebook new` makes a blank one."
	oldFile = "Save as .xlsx."
)

func noWorkbook(message, do string) *finding.Unusable {
	return &finding.Unusable{Rule: "F105", Message: message, Do: do}
}

// sniff looks at the first bytes and tells what is no zip. nil: a zip.
func sniff(name string, data []byte) error {
	ext := strings.ToLower(filepath.Ext(name))
	named := func(what string) string {
		if ext == ".xlsx" || ext == ".xlsm" {
			return name + " is " + what + " named " + ext
		}
		return name + " is " + what
	}
	head := data[:min(len(data), 4096)]
	has := func(magic string) bool { return bytes.HasPrefix(head, []byte(magic)) }
	switch {
	case len(data) == 0:
		return noWorkbook(name+" is empty", orMake)
	case has("PK\x03\x04"), has("PK\x05\x06"), has("PK\x07\x08"):
		return nil
	case has("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
		return sniffCompound(name, data)
	case len(bytes.Trim(head, "\x00")) == 0:
		return damaged(name+" holds zeros only: it was never copied completely", nil)
	case has("\x1f\x8b"), has("7z\xbc\xaf\x27\x1c"), has("Rar!\x1a\x07"), has("BZh"), has("\xfd7zXZ\x00"):
		return noWorkbook(named("a packed archive"), "Unpack it and give the .xlsx inside.")
	case has("%PDF"):
		return noWorkbook(named("a PDF"), orMake)
	case has("\x89PNG"), has("\xff\xd8\xff"), has("GIF8"), has("BM") && len(data) > 54 && !utf8.Valid(head), has("II*\x00"), has("MM\x00*"), len(head) > 12 && string(head[4:8]) == "ftyp", has("RIFF"):
		return noWorkbook(named("a picture"), orMake)
	case has(`{\rtf`):
		return noWorkbook(named("a text document"), saveAs)
	case has("\x09\x08"), has("\x09\x04"), has("\x09\x02"), has("\x09\x00"):
		return &finding.Unusable{Rule: "F104", Message: name + " is a workbook of the old .xls kind", Do: oldFile}
	}
	return sniffText(named, data)
}

func sniffText(named func(string) string, data []byte) error {
	text := decodeStart(data)
	if text == "" {
		return noWorkbook(named("a file of an unknown kind"), orMake)
	}
	low := strings.ToLower(strings.TrimSpace(text))
	for _, tag := range []string{"<!doctype html", "<html", "<table", "<head", "<body", "<meta", "<div", "<style", "mime-version:"} {
		if strings.HasPrefix(low, tag) || strings.HasPrefix(low, "<") && strings.Contains(low, "<html") {
			return noWorkbook(named("a web page"), saveAs)
		}
	}
	if strings.HasPrefix(low, "<?xml") || strings.HasPrefix(low, "<workbook") {
		switch {
		case strings.Contains(low, "schemas-microsoft-com:office:spreadsheet"):
			return noWorkbook(named("an XML spreadsheet"), saveAs)
		case strings.Contains(low, "opendocument"):
			return noWorkbook(named("an OpenDocument spreadsheet"), saveAs)
		}
		return noWorkbook(named("an XML file"), orMake)
	}
	if looksCSV(text) {
		return noWorkbook(named("a CSV text"), "Save as .xlsx; CSV: `platebook import`.")
	}
	return noWorkbook(named("a text file"), "Save as .xlsx; CSV: `platebook import`.")
}

// decodeStart is the beginning of a text file, "" when the bytes are no text.
func decodeStart(data []byte) string {
	head := data[:min(len(data), 4096)]
	if bytes.HasPrefix(head, []byte("\xff\xfe")) || bytes.HasPrefix(head, []byte("\xfe\xff")) {
		return string(bytes.ReplaceAll(head[2:], []byte{0}, nil))
	}
	head = bytes.TrimPrefix(head, []byte("\ufeff"))
	odd := 0
	for _, c := range head {
		if c < 32 && c != '\n' && c != '\r' && c != '\t' && c != '\f' {
			odd++
		}
	}
	if odd > 0 {
		return ""
	}
	return string(head)
}

// looksCSV says whether the first lines, two at least, hold one divider equally often.
func looksCSV(text string) bool {
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n")), "\n")
	if len(lines) > 6 {
		lines = lines[:5]
	}
	for _, sep := range []string{",", ";", "\t"} {
		n := strings.Count(lines[0], sep)
		ok := n > 0 && len(lines) > 1
		for _, l := range lines[1:] {
			ok = ok && (strings.Count(l, sep) == n || strings.Contains(l, `"`))
		}
		if ok {
			return true
		}
	}
	return false
}

// sniffCompound tells the kinds of the old compound file by the names in its
// directory, whose entries stand at multiples of 128 bytes.
//
// Source: [MS-CFB] 2.6.1 (name of at most 32 UTF-16 letters, its length in
// bytes at offset 64, the kind at 66).
func sniffCompound(name string, data []byte) error {
	found := map[string]bool{}
	for at := 512; at+128 <= len(data); at += 128 {
		e := data[at : at+128]
		n := int(binary.LittleEndian.Uint16(e[64:]))
		if n < 4 || n > 64 || n%2 != 0 || (e[66] != 1 && e[66] != 2) {
			continue
		}
		var b strings.Builder
		for i := 0; i+2 < n; i += 2 {
			b.WriteRune(rune(binary.LittleEndian.Uint16(e[i:])))
		}
		found[b.String()] = true
	}
	switch {
	case found["EncryptedPackage"]:
		return &finding.Unusable{Rule: "F103", Message: name + " needs a password to open", Do: "Save a copy without it."}
	case found["Workbook"], found["Book"]:
		return &finding.Unusable{Rule: "F104", Message: name + " is a workbook of the old .xls kind", Do: oldFile}
	}
	return noWorkbook(name+" is an old office file, but no workbook", orMake)
}

// sniffZip tells the zips that are no .xlsx.
func sniffZip(p *pack, name string) error {
	if p.has("xl/workbook.bin") {
		return &finding.Unusable{Rule: "F104", Message: name + " is a workbook of the .xlsb kind", Do: oldFile}
	}
	if p.has("mimetype") {
		if rc, err := p.open("mimetype"); err == nil {
			b, _ := io.ReadAll(io.LimitReader(rc, 200))
			rc.Close()
			switch {
			case strings.Contains(string(b), "opendocument.spreadsheet"):
				return noWorkbook(name+" is an OpenDocument spreadsheet (.ods)", saveAs)
			case strings.Contains(string(b), "opendocument"):
				return noWorkbook(name+" is an OpenDocument file, but no spreadsheet", orMake)
			}
		}
	}
	if p.has("xl/workbook.xml") || p.has("[Content_Types].xml") && p.officeDocument() {
		return nil
	}
	switch {
	case p.has("word/document.xml"):
		return noWorkbook(name+" is a text document (.docx)", orMake)
	case p.has("ppt/presentation.xml"):
		return noWorkbook(name+" is a presentation (.pptx)", orMake)
	case p.has("index/document.iwa"):
		return noWorkbook(name+" is a document of another spreadsheet program", saveAs)
	}
	return noWorkbook(name+" is a zip archive, but no workbook", "Unpack it and give the .xlsx inside.")
}

func (p *pack) officeDocument() bool {
	rels, err := p.relations("")
	if err != nil {
		return true
	}
	main := find(rels, "officeDocument")
	return main != "" && !strings.HasPrefix(main, "word/") && !strings.HasPrefix(main, "ppt/")
}
