package main

import (
	"context"
	"errors"
	"maps"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
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

// newJSON is what new prints.
type newJSON struct {
	schema
	Range string   `json:"range"`
	State string   `json:"state"` // identity of the saved state
	Files []string `json:"files"`
}

func (p *program) newRange(ctx context.Context, name, maker string) error {
	dir, err := filepath.Abs(p.at(name))
	if err != nil {
		return err
	}
	if maker == "" {
		maker = filepath.Base(dir)
	}
	files := models.StarterShared(maker)
	var state string
	err = makeFolder(dir, func() (err error) {
		state, err = p.beginRange(ctx, dir, files)
		return err
	})
	if err != nil {
		return err
	}
	if p.json {
		return p.writeJSON(newJSON{schema1, name, state, slices.Sorted(maps.Keys(files))})
	}
	p.println(name + " is a range now. Look through its files and put your own parts in:")
	for _, f := range slices.Sorted(maps.Keys(files)) {
		p.println("  " + filepath.Join(name, f))
	}
	p.println("\nThen begin a model:\n  rodlore -C " + name + " add MODEL")
	return nil
}

// beginRange puts the first files into dir and saves them.
func (p *program) beginRange(ctx context.Context, dir string, files map[string][]byte) (state string, err error) {
	if err := putFiles(dir, files); err != nil {
		return "", err
	}
	store, err := gitstore.Init(dir)
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	log, err := store.Log(ctx)
	if err != nil {
		return "", err
	}
	return store.Save(ctx, catalogue.Save{
		Parent: log.Head, Files: files, Message: catalogue.Message("Begin the range", ""), When: p.now(),
	})
}
