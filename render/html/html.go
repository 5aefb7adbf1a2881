// Package html writes the floor as one page that opens from disk: the plan to
// zoom and point at, filters, a table, statistics. It needs no network and
// nothing installed, and without its script it is a drawing and a table.
package html

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"strings"

	"platebook/rules"
	"platebook/templates"
)

// Options is what the page needs besides the assessment.
type Options struct {
	Version string
	Thumbs  []Thumb // pictures to carry in the page; none: their names only
}

// Write writes the page. The same assessment gives the same bytes.
func Write(w io.Writer, a *rules.Assessment, opt Options) error {
	words := map[string]string{}
	if err := json.Unmarshal(templates.PageWords, &words); err != nil {
		return fmt.Errorf("words of the page: %w", err)
	}
	var missing error
	page, err := template.New("page").Funcs(template.FuncMap{
		"w": func(key string) string {
			if _, ok := words[key]; !ok {
				missing = fmt.Errorf("words of the page: none for %q", key)
			}
			return words[key]
		},
	}).Parse(templates.PageHTML)
	if err != nil {
		return fmt.Errorf("page: %w", err)
	}
	h := headOf(a, opt, words)
	d, err := dataOf(a, opt, words)
	if err != nil {
		return err
	}
	h.Data = template.JS(d)
	h.Style = template.CSS(plainLines(templates.PageCSS))
	h.Script = template.JS(plainLines(templates.PageJS()))
	h.Guard = template.JS(plainLines(templates.PageGuardJS()))
	h.Policy = policy(string(h.Style), string(h.Guard), string(h.Script))
	h.Drawing = template.HTML(drawing(a))
	t := table(a, words)
	h.Heads, h.Same, h.Table = t.Heads, t.Same, template.HTML(t.Body)
	out := bufio.NewWriterSize(w, 1<<16)
	if err := page.Execute(out, h); err != nil {
		return fmt.Errorf("page: %w", err)
	}
	if missing != nil {
		return missing
	}
	return out.Flush()
}

// policy lets the page's own style and scripts run, by their digests, and
// pictures within the page show; nothing else, from nowhere.
func policy(style string, scripts ...string) string {
	digest := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	allowed := ""
	for _, s := range scripts {
		allowed += " " + digest(s)
	}
	return "default-src 'none'; script-src" + allowed + "; style-src " + digest(style) +
		"; img-src data:; base-uri 'none'; form-action 'none'"
}

// plainLines ends lines as browsers hash them, however the source was checked
// out.
func plainLines(s string) string { return strings.ReplaceAll(s, "\r\n", "\n") }

// encode is JSON that may stand in a script element: <, > and & are escaped,
// so that no text can end the element or begin another.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	if err := json.NewEncoder(&b).Encode(v); err != nil {
		return nil, fmt.Errorf("data of the page: %w", err)
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}
