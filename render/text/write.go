package text

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
)

// write sends the document out member by member, and of a list entry by
// entry: of 50,000 indications it has 24 MB, which the encoder would hold
// three times before the first byte goes out.
func (d *document) write(w io.Writer, indent bool) error {
	out := &members{Writer: bufio.NewWriterSize(w, 64<<10), indent: indent}
	v := reflect.ValueOf(d).Elem()
	between := "{"
	for i := range v.NumField() {
		name, option, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		f := v.Field(i)
		if option == "omitempty" && f.IsZero() {
			continue
		}
		out.text(between)
		between = ","
		out.line(1)
		out.text(`"` + name + `":`)
		if indent {
			out.text(" ")
		}
		if f.Kind() == reflect.Slice && f.Len() > 0 {
			out.list(f)
		} else {
			out.value(f, 1)
		}
	}
	out.line(0)
	out.text("}\n")
	if out.err == nil {
		out.err = out.Flush()
	}
	if out.err != nil {
		return fmt.Errorf("result of %s as JSON: %w", d.Input.File, out.err)
	}
	return nil
}

// members writes the parts of a document; after the first error nothing more
// goes out.
type members struct {
	*bufio.Writer
	indent bool
	one    bytes.Buffer
	err    error
}

func (m *members) text(s string) {
	if m.err == nil {
		_, m.err = m.WriteString(s)
	}
}

// line begins a line at a depth of nesting where the document has lines.
func (m *members) line(depth int) {
	if m.indent {
		m.text("\n" + strings.Repeat(" ", depth))
	}
}

func (m *members) list(all reflect.Value) {
	between := "["
	for i := range all.Len() {
		m.text(between)
		between = ","
		m.line(2)
		m.value(all.Index(i), 2)
	}
	m.line(1)
	m.text("]")
}

// value writes one value that stands at a depth of nesting.
func (m *members) value(v reflect.Value, depth int) {
	if m.err != nil {
		return
	}
	m.one.Reset()
	e := json.NewEncoder(&m.one)
	e.SetEscapeHTML(false)
	if m.indent {
		e.SetIndent(strings.Repeat(" ", depth), " ")
	}
	if m.err = e.Encode(v.Addr().Interface()); m.err == nil {
		_, m.err = m.Write(bytes.TrimRight(m.one.Bytes(), "\n"))
	}
}
