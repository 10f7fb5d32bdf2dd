package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
	"rodlore/catalogue/say"
	"rodlore/catalogue/working"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// work opens the range around the folder in hand, with its history, for as long
// as do takes.
func (p *program) work(ctx context.Context, do func(*catalogue.Range) error) error {
	store, err := gitstore.Open(p.at("."))
	if err != nil {
		return err
	}
	return p.with(ctx, store, store, do)
}

// look opens the range as work does, or, where it is in no repository, its
// files alone.
func (p *program) look(ctx context.Context, do func(*catalogue.Range) error) error {
	src, open, err := p.source()
	if err != nil {
		return err
	}
	return p.with(ctx, src, open, do)
}

// source is where the range around the folder in hand is kept, and what closes it.
func (p *program) source() (source, io.Closer, error) {
	store, err := gitstore.Open(p.at("."))
	if !errors.Is(err, gitstore.ErrNoRepository) {
		return store, store, err
	}
	folder, err := catalogue.OpenFolder(p.at("."))
	return folder, io.NopCloser(nil), err
}

// source is a range's, which has a folder.
type source interface {
	catalogue.Source
	Root() string
}

func (p *program) with(ctx context.Context, src source, open io.Closer, do func(*catalogue.Range) error) (err error) {
	defer func() { err = errors.Join(err, open.Close()) }()
	p.root = src.Root()
	store, inGit := src.(*gitstore.Store)
	if inGit {
		store.Keep(p.cached(gitstore.CacheScope))
	}
	r, err := p.prepared(ctx, src)
	if err != nil {
		return err
	}
	r.Keep(p.cached(buildID()))
	if inGit {
		p.recall(r, store)
	}
	err = do(r)
	p.remark(r.Notes())
	return err
}

// prepared is the range of a source, of which nothing is kept.
func (p *program) prepared(ctx context.Context, src catalogue.Source) (*catalogue.Range, error) {
	r, err := catalogue.Open(ctx, src)
	if err != nil {
		return nil, err
	}
	r.SetToday(day(p.now()))
	r.CheckWords(func(file string, src []byte) error { _, err := say.Read(file, src); return err })
	return r, nil
}

// english speaks English of a range, as the terminal and data do, in its units.
// A fault in range.yaml is told by whatever works something out.
func english(r *catalogue.Range) say.Teller {
	set, err := r.Settings()
	if err != nil {
		set = models.DefaultSettings()
	}
	return say.English().Teller(set)
}

// subject is a rod to be worked out, and the settings to do it by.
type subject struct {
	*catalogue.Revision
	set *models.Settings
}

func (s subject) display() figures.Display { return s.set.Display() }

func (s subject) teller() say.Teller { return say.English().Teller(s.set) }

// find gives the rod that an argument names: MODEL, MODEL@REV or the path of a
// spec.
func (p *program) find(ctx context.Context, arg string) (s subject, err error) {
	if isPath(arg) {
		return readSpec(p.at(arg))
	}
	err = p.look(ctx, func(r *catalogue.Range) error {
		rev, err := sound(r.FindRod(arg))
		if err != nil {
			return err
		}
		s, err = subjectOf(r, rev)
		return err
	})
	return s, err
}

// sound is a revision that was found, or why it is none or has faults.
func sound(rev *catalogue.Revision, err error) (*catalogue.Revision, error) {
	if err == nil {
		err = rev.Fault()
	}
	return rev, err
}

// subjectOf is a revision with the settings to work it out by.
func subjectOf(r *catalogue.Range, rev *catalogue.Revision) (subject, error) {
	set, err := r.Settings()
	return subject{rev, set}, err
}

// built is a rod that was built, by its number, and the revision that it was built to.
func built(r *catalogue.Range, serial string) (b *catalogue.Build, s subject, err error) {
	if b, err = r.Build(serial); err != nil {
		return nil, s, err
	}
	rev, err := r.BuiltTo(b)
	if err != nil {
		return nil, s, err
	}
	s, err = subjectOf(r, rev)
	return b, s, err
}

// isPath tells the path of a spec from the name of a model.
func isPath(arg string) bool {
	return strings.HasSuffix(arg, ".yaml") || strings.ContainsAny(arg, `/\`)
}

// readSpec reads a spec that need not be in a range: parts, materials and
// settings are taken from the files beside it or else in the folder above.
func readSpec(path string) (subject, error) {
	src, err := working.ReadFile(path)
	if err != nil {
		return subject{}, err
	}
	parts, err := beside(path, "parts.yaml", models.ParseParts)
	if err != nil {
		return subject{}, err
	}
	materials, err := beside(path, "materials.yaml", models.ParseMaterials)
	if err != nil {
		return subject{}, err
	}
	set, err := beside(path, "range.yaml", models.ParseSettings)
	if err != nil {
		return subject{}, err
	}
	spec, err := models.ParseSpec(path, src, parts, materials)
	if err != nil {
		return subject{}, err
	}
	name := strings.TrimSuffix(filepath.Base(path), ".yaml")
	return subject{catalogue.NewDraft(name, path, spec), set}, nil
}

// beside parses the shared file nearest to a spec; where there is none, an
// empty one.
func beside[T any](spec, name string, parse func(string, []byte) (T, error)) (T, error) {
	dir := filepath.Dir(spec)
	for _, file := range []string{filepath.Join(dir, name), filepath.Join(dir, "..", name)} {
		src, err := working.ReadFile(file)
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			var none T
			return none, err
		}
		return parse(file, src)
	}
	return parse(name, nil)
}
