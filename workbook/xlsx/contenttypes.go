package xlsx

import (
	"bytes"
	"slices"
)

// sortedDefaults puts the entries for file extensions of a content types part
// in order: the writer beneath lists those of pictures as they come, and the
// same Draft must give the same bytes.
func sortedDefaults(part []byte) []byte {
	const open, end = "<Default ", "</Default>"
	first := bytes.Index(part, []byte(open))
	last := bytes.LastIndex(part, []byte(end))
	if first < 0 || last < first {
		return part
	}
	last += len(end)
	entries := bytes.SplitAfter(part[first:last], []byte(end))
	for _, e := range entries {
		if len(e) > 0 && !bytes.HasPrefix(e, []byte(open)) {
			return part // something else stands between them
		}
	}
	slices.SortFunc(entries, bytes.Compare)
	return slices.Concat(part[:first], bytes.Join(entries, nil), part[last:])
}
