package xlsx

import "errors"

// errUnordered ends a pass over a sheet whose rows stand in no order.
var errUnordered = errors.New("rows out of order")

// Each gives the rows of the sheet from the top, without keeping them: for a
// sheet that is looked through once, however long it is. A row holds until the
// function returns. A sheet whose rows stand in no order in the file is read
// whole instead, after begin was called again; begin is called before the
// first row.
func (s *Sheet) Each(begin func(), row func(*Row) error) error {
	if s.grid == nil && s.err == nil {
		begin()
		err := s.pass(row)
		if !errors.Is(err, errUnordered) {
			return err
		}
	}
	g, err := s.Read()
	if err != nil {
		return err
	}
	begin()
	for i := range g.Rows {
		if err := row(&g.Rows[i]); err != nil {
			return err
		}
	}
	return nil
}

// pass reads the sheet once from end to end. What it takes of the bounds of
// what is kept is given back.
func (s *Sheet) pass(row func(*Row) error) error {
	p := s.book.pkg
	t, err := p.texts()
	if err != nil {
		return err
	}
	var own error // of the function, which is no matter of the file
	r := &sheetReader{sheet: s, pkg: p, texts: t, grid: &Grid{}}
	r.each = func(w *Row) error {
		own = row(w)
		return own
	}
	defer func() {
		p.cells.Add(-r.counts.cells)
		p.text.Add(-r.counts.text)
	}()
	err = p.scan(s.part, s.Name, r.token)
	switch {
	case own != nil:
		return own
	case r.mixed:
		return errUnordered
	case err != nil:
		return r.where(err)
	}
	return nil
}

// give hands the row in hand over.
func (r *sheetReader) give() error {
	if r.mixed {
		return errUnordered
	}
	r.kept++
	r.row.Cells = r.cells
	return r.each(&r.row)
}
