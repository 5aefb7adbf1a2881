package workbook

import (
	"fmt"
	"hash/fnv"
	"strings"

	"platebook/rules/inspection"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// homes gives a label as its home sheet spells it: a plate as in Plates.
type homes map[string]map[string]string

// nameRows gives every record the key that findings and answers use.
func (t *table) nameRows(home homes) {
	cells := make([]*xlsx.Cell, len(t.columns))
	parts := make([]string, 0, len(t.def.Key))
	columns := t.fields(len(t.def.Key), func(i int) string { return t.def.Key[i] })
	for n := range t.rows {
		row := &t.rows[n]
		t.spread(row, cells)
		parts = parts[:0]
		whole := true
		for _, c := range columns {
			text := ""
			if c >= 0 && cells[c] != nil && !t.columns[c].lost() {
				text = keyText(cells[c].Raw, t.date1904)
			}
			if c >= 0 && text != "" {
				if typed, ok := home[t.columns[c].def.Header][inspection.Fold(text)]; ok {
					text = typed
				}
			}
			if text == "" && (c < 0 || t.columns[c].def.Required) {
				whole = false
			}
			parts = append(parts, text)
		}
		if !whole {
			t.nameByTexts(row)
			continue
		}
		row.label = joinKey(t.def.Key, parts)
		row.key = t.unique(row.label)
	}
}

// joinKey is Plate/ID, with the comma between X and Y.
func joinKey(names, parts []string) string {
	if len(parts) == 1 {
		return parts[0]
	}
	var b strings.Builder
	for i, p := range parts {
		if p == "" {
			continue
		}
		if b.Len() > 0 {
			if names[i] == "Y" {
				b.WriteByte(',')
			} else {
				b.WriteByte('/')
			}
		}
		b.WriteString(p)
	}
	return b.String()
}

func keyText(c cell.Raw, date1904 bool) string {
	if c.Type == cell.String && !c.NoStored {
		return oneLine(c.Text)
	}
	return typedText(c, date1904)
}

// nameByTexts names a row that has no key by a hash of its texts, which stays
// when rows are inserted above it.
func (t *table) nameByTexts(row *dataRow) {
	h := fnv.New32a()
	for i := range row.Cells {
		h.Write([]byte(typedText(row.Cells[i].Raw, t.date1904)))
		h.Write([]byte{0})
	}
	row.key = t.unique(fmt.Sprintf("@%08x", h.Sum32()))
	row.label = ""
}

// unique tells a second equal key from the first.
func (t *table) unique(key string) string {
	t.keys[key]++
	if n := t.keys[key]; n > 1 {
		return fmt.Sprintf("%s#%d", key, n)
	}
	return key
}
