package main

import (
	"bytes"
	"context"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
	"rodlore/catalogue/visible"
	"rodlore/catalogue/working"
	"rodlore/models"
)

func newNew(p *program) *cobra.Command {
	var maker string
	cmd := &cobra.Command{
		Use:   "new DIR",
		Short: "begin a range of your own",
		Long: `Makes a new range with settings, parts and materials to start from, as a git
repository in a new or empty folder, and saves it for the first time. Inside a
git repository the range becomes a part of that one.`,
		Example: "  rodlore new workshop --maker \"Saltmarsh Rods\"",
		Args:    wants(1, 1, "the folder to make"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.newRange(cmd.Context(), args[0], maker)
		},
	}
	cmd.Flags().StringVar(&maker, "maker", "", "the `name` on the rods; that of the folder if not given")
	return cmd
}

func (p *program) newRange(ctx context.Context, name, maker string) error {
	at := p.at(name)
	dir, err := filepath.Abs(at)
	if err != nil {
		return err
	}
	if maker == "" {
		maker = filepath.Base(dir)
	}
	files := models.StarterShared(maker)
	state, err := p.makeRange(ctx, dir, files)
	if err != nil {
		return err
	}
	made := slices.Sorted(maps.Keys(files))
	return p.show(func() object { return object{{"range", name}, {"state", state}, {"files", made}} }, func() {
		p.println(name + " is a range now. Look through its files and put your own parts in:")
		for _, f := range made {
			p.println("  " + filepath.Join(at, f))
		}
		p.println("\nThen begin a model:\n  rodlore -C " + visible.Arg(at) + " add MODEL")
	})
}

// makeRange makes a folder with the first files and saves them.
func (p *program) makeRange(ctx context.Context, dir string, files map[string][]byte) (state string, err error) {
	place, err := behindLinks(dir)
	if err != nil {
		return "", err
	}
	if !gitstore.IsServed(filepath.Dir(place)) {
		err = makeFolder(dir, func(dir string) (err error) {
			if err = putFiles(dir, files); err == nil {
				state, err = p.beginRange(ctx, dir, files)
			}
			return err
		})
		if err != nil {
			return "", err
		}
		// What was seen of a range that was in this folder before is forgotten.
		p.dir, p.made = dir, true
		return state, p.work(ctx, func(*catalogue.Range) error { return nil })
	}
	// A repository that is there already saves the files by where they are, so
	// the folder is in its place first. Where that is all a killed run came to,
	// this one goes on from there.
	if !holdsOnly(dir, files) {
		_, missing := os.Stat(dir)
		if err := makeFolder(dir, func(dir string) error { return putFiles(dir, files) }); err != nil {
			return "", err
		}
		defer func() {
			if err != nil {
				err = errors.Join(err, unmake(dir, missing != nil))
			}
		}()
	}
	return p.beginRange(ctx, dir, files)
}

// holdsOnly reports whether a folder holds these files and nothing else.
func holdsOnly(dir string, files map[string][]byte) bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return false
	}
	for _, e := range entries {
		content, err := working.At(dir).Read(e.Name())
		first, ours := files[e.Name()]
		if err != nil || e.Name() != gitstore.AttributesFile && !(ours && bytes.Equal(content, first)) {
			return false
		}
	}
	return len(entries) >= len(files)
}

// unmake empties a folder, and takes it away too if it was made for this.
func unmake(dir string, made bool) error {
	if made {
		return os.RemoveAll(dir)
	}
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		err = errors.Join(err, os.RemoveAll(filepath.Join(dir, e.Name())))
	}
	return err
}

// beginRange saves the first files of a range.
func (p *program) beginRange(ctx context.Context, dir string, files map[string][]byte) (state string, err error) {
	store, err := gitstore.Init(dir)
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	log, err := store.Log(ctx)
	if err != nil {
		return "", err
	}
	for _, st := range log.States {
		if len(st.Changes) > 0 {
			return "", notEmpty(dir)
		}
	}
	return store.Save(ctx, catalogue.Save{
		Parent: log.Head, Files: files, Message: catalogue.Message("Begin the range", ""), When: p.now(),
	})
}
