package xlsx

import "io"

// checkCarried reads the parts that are carried over into a copy and looked at by
// nobody here, so that a damaged one is told before anything is written. What
// is read for itself is not read twice: sheets and shared texts.
func (p *pack) checkCarried(sheets []*Sheet) error {
	err := p.scan(contentTypes, "the list of its parts", func(*scanner) error { return nil })
	if err != nil {
		return err
	}
	read := map[string]bool{fold(contentTypes): true, fold(find(p.rels, "sharedStrings")): true}
	for _, s := range sheets {
		read[fold(s.part)] = true
	}
	for _, f := range p.zip.File {
		name := fold(f.Name)
		if read[name] || p.parts[name] != f {
			continue
		}
		r, err := p.open(name)
		if err != nil {
			return err
		}
		_, err = io.Copy(io.Discard, r)
		r.Close()
		if err != nil {
			return p.partError("the part "+f.Name, err)
		}
	}
	return nil
}
