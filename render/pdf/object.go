package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// objects are the numbered objects of a PDF file; the index is the number.
type objects [][]byte

var reference = regexp.MustCompile(`(\d+) 0 R`)

// readObjects takes apart a file as the writer beneath maroto leaves it: one
// plain cross-reference table, generation 0 throughout, no object streams.
func readObjects(file []byte) (objs objects, root int, err error) {
	bad := func(what string) (objects, int, error) {
		return nil, 0, errors.New("pdf: the page layout has no " + what)
	}
	i := bytes.LastIndex(file, []byte("startxref\n"))
	if i < 0 {
		return bad("cross-reference")
	}
	var start int
	if _, err := fmt.Sscanf(string(file[i:]), "startxref\n%d", &start); err != nil || start <= 0 || start >= len(file) {
		return bad("cross-reference")
	}
	var first, count int
	if _, err := fmt.Sscanf(string(file[start:min(start+40, len(file))]), "xref\n%d %d\n", &first, &count); err != nil || first != 0 || count < 2 {
		return bad("cross-reference")
	}
	lines := bytes.Split(file[start:i], []byte("\n"))
	if len(lines) < count+2 {
		return bad("full cross-reference")
	}
	offsets := make([]int, count)
	order := []int{}
	for n := 1; n < count; n++ {
		line := lines[2+n]
		if len(line) < 10 {
			return bad("whole cross-reference")
		}
		if offsets[n], err = strconv.Atoi(string(line[:10])); err != nil {
			return bad("whole cross-reference")
		}
		if offsets[n] > 0 {
			order = append(order, n)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return offsets[a] - offsets[b] })
	objs = make(objects, count)
	for k, n := range order {
		end := start
		if k+1 < len(order) {
			end = offsets[order[k+1]]
		}
		body := file[offsets[n]:end]
		head := fmt.Sprintf("%d 0 obj\n", n)
		if !bytes.HasPrefix(body, []byte(head)) {
			return bad(fmt.Sprintf("object %d", n))
		}
		body = bytes.TrimRight(body[len(head):], "\r\n ")
		if !bytes.HasSuffix(body, []byte("endobj")) {
			return bad(fmt.Sprintf("end of object %d", n))
		}
		objs[n] = bytes.TrimRight(body[:len(body)-len("endobj")], "\r\n ")
	}
	trailer := file[start:i]
	r := regexp.MustCompile(`/Root (\d+) 0 R`).FindSubmatch(trailer)
	if r == nil {
		return bad("root")
	}
	root, _ = strconv.Atoi(string(r[1]))
	return objs, root, nil
}

// entryRef is the object a dictionary's key refers to, 0 without one.
func (o objects) entryRef(n int, key string) int {
	if n <= 0 || n >= len(o) {
		return 0
	}
	dict := o[n]
	i := bytes.Index(dict, []byte("/"+key+" "))
	if i < 0 {
		return 0
	}
	m := reference.FindSubmatch(dict[i+len(key)+2:])
	if m == nil {
		return 0
	}
	v, _ := strconv.Atoi(string(m[1]))
	return v
}

// kids are the page objects in order.
func (o objects) kids(pages int) []int {
	dict := o[pages]
	i := bytes.Index(dict, []byte("/Kids ["))
	if i < 0 {
		return nil
	}
	dict = dict[i:]
	if j := bytes.IndexByte(dict, ']'); j >= 0 {
		dict = dict[:j]
	}
	var out []int
	for _, m := range reference.FindAllSubmatch(dict, -1) {
		n, _ := strconv.Atoi(string(m[1]))
		out = append(out, n)
	}
	return out
}

// add appends an object and gives its number.
func (o *objects) add(body []byte) int {
	*o = append(*o, body)
	return len(*o) - 1
}
