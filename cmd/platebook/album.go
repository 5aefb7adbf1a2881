package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"golang.org/x/text/unicode/norm"

	"platebook/render/html"
	"platebook/render/photo"
	"platebook/render/report"
	"platebook/rules/check"
	"platebook/rules/inspection"
)

// album is the pictures beside a workbook, loaded once for checks and report
// alike. Those of the Photos sheet are loaded side by side from the start.
type album struct {
	dir   string
	why   photo.Purpose
	first chan struct{} // closed when the Photos sheet's are loaded

	mu     sync.Mutex
	loaded map[string]photo.Loaded
}

func openAlbum(dir string, photos []inspection.Photo, why photo.Purpose) *album {
	a := &album{dir: dir, why: why, first: make(chan struct{}), loaded: map[string]photo.Loaded{}}
	var names []string
	for _, p := range photos {
		if n := p.File.Or(""); n != "" && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	go func() {
		defer close(a.first)
		for i, l := range photo.LoadAll(dir, names, why) {
			a.mu.Lock()
			a.loaded[names[i]] = l
			a.mu.Unlock()
		}
	}()
	return a
}

func (a *album) load(name string) photo.Loaded {
	<-a.first
	a.mu.Lock()
	defer a.mu.Unlock()
	l, ok := a.loaded[name]
	if !ok {
		l = photo.LoadAll(a.dir, []string{name}, a.why)[0]
		a.loaded[name] = l
	}
	return l
}

// Picture is what the checks ask of a picture file.
func (a *album) Picture(name string) check.Picture {
	l := a.load(name)
	p := check.Picture{Found: !errors.Is(l.Err, photo.ErrNotFound), Readable: l.Err == nil, Taken: l.Meta.TakenAt.Date}
	p.Why, p.Do = photo.Advice(l.Err)
	return p
}

// missing is how many photos the Photos sheet names when none of them is there,
// else 0.
func (a *album) missing(photos []inspection.Photo) int {
	names := map[string]bool{}
	for _, p := range photos {
		name := p.File.Or("")
		if name == "" {
			continue
		}
		if _, err := photo.Find(a.dir, name); err == nil {
			return 0
		}
		names[name] = true
	}
	return len(names)
}

// Folder is the names of the pictures in the photos folder.
func (a *album) Folder() []string {
	entries, err := os.ReadDir(filepath.Join(a.dir, "photos"))
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		ext := strings.ToLower(filepath.Ext(e.Name()))
		if !e.IsDir() && slices.Contains([]string{".jpg", ".jpeg", ".png", ".heic", ".heif"}, ext) {
			names = append(names, norm.NFC.String(e.Name())) // as a person types it
		}
	}
	return names
}

// photos is the Photos sheet's pictures for the report, in its order.
func (a *album) photos(rows []inspection.Photo) []report.Photo {
	out := make([]report.Photo, len(rows))
	for i, r := range rows {
		l := a.load(r.File.Or(""))
		out[i].Picture = l.Picture
		if l.Err != nil {
			out[i].Missing = l.Err.Error()
		}
	}
	return out
}

// logo is the firm's logo, nil without one.
func (a *album) logo(name inspection.Text) *report.Picture {
	if name.Or("") == "" {
		return nil
	}
	return a.load(name.Value).Picture
}

// thumbs is the named pictures made small.
func (a *album) thumbs(names []string) []html.Thumb {
	out := make([]html.Thumb, len(names))
	for i, n := range names {
		out[i].File = n
		l := a.load(n)
		if l.Err == nil && l.Picture != nil {
			out[i].JPEG, l.Err = html.Thumbnail(l.Picture.JPEG)
		}
		if l.Err != nil {
			out[i].Missing = l.Err.Error()
		}
	}
	return out
}
