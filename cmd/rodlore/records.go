package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/visible"
	"rodlore/models"
)

// record holds new entries for a list in one of the range's files: a rod built, a repair,
// what was heard, checks ticked together.
type record struct {
	file, list string // "builds/2026.yaml", "built"
	why        string // to save it for; "" where it is only written down
	entries    [][]models.Pair
}

// entryOf is an entry from keys and values in turn, without the keys that have no value.
func entryOf(pairs ...string) (entry []models.Pair) {
	for pair := range slices.Chunk(pairs, 2) {
		if pair[1] != "" {
			entry = append(entry, models.Pair{Key: pair[0], Value: pair[1]})
		}
	}
	return entry
}

// appended is a file with a record in it, which parse can read.
func appended[T any](src []byte, rec record, parse func(string, []byte) (T, error)) (_ []byte, err error) {
	for _, entry := range rec.entries {
		if src, err = models.Append(rec.file, src, rec.list, entry); err != nil {
			return nil, err
		}
	}
	_, err = parse(rec.file, src)
	return src, err
}

// keyOf is the key in a file whose value is at fault.
func keyOf(f *models.Fault) string { return f.Path[strings.LastIndex(f.Path, ".")+1:] }

// addRecord puts a record at the end of its list, in a file that parse reads, and
// saves the file where a reason is given. free says whether an entry may be
// added to what is there, with nobody else adding meanwhile; where it refuses one,
// nothing is written. One that is there already and only not saved yet, as a save
// leaves it that failed, is saved and not added again. Where free is nil, one that
// is there already is the same, given again.
//
// The state it was saved in is "" where there is no reason, or nothing to save.
func addRecord[T any](
	ctx context.Context, p *program, r *catalogue.Range, rec record, parse func(string, []byte) (T, error), free func(entry []models.Pair) error,
) (state string, err error) {
	// By itself first, so that what was typed is told as such and not as a place in a file.
	if _, err := appended(nil, rec, parse); err != nil {
		var faults models.Faults
		if !errors.As(err, &faults) {
			return "", err
		}
		var lines []string
		for _, f := range faults {
			if line := keyOf(f) + ": " + f.Msg; !slices.Contains(lines, line) { // every entry may have the same
				lines = append(lines, line)
			}
		}
		return "", misuse("%s", strings.Join(lines, "\n"))
	}
	release, err := p.files().Hold(path.Dir(rec.file))
	if err != nil {
		return "", err
	}
	defer release()
	if rec.why != "" {
		// Those who held the folder before have saved what they added.
		if err := r.Refresh(ctx); err != nil {
			return "", err
		}
	}
	src, err := p.files().Read(rec.file)
	saved := false
	if err == nil {
		saved, err = r.IsSaved(ctx, rec.file)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	rec.entries = slices.DeleteFunc(rec.entries, func(entry []models.Pair) bool {
		return models.Holds(src, entry) && (free == nil || rec.why != "" && !saved)
	})
	if len(rec.entries) == 0 && saved {
		return "", nil
	}
	if len(rec.entries) == 0 {
		return p.saveRecord(ctx, r, rec.file, rec.why)
	}
	if rec.why != "" {
		if err := r.Refused(rec.file); err != nil {
			return "", err
		}
	}
	for _, entry := range rec.entries {
		if free == nil {
			break
		}
		if err := free(entry); err != nil {
			return "", err
		}
	}
	if err := writeRecord(p, rec, parse); err != nil {
		return "", err
	}
	return p.saveRecord(ctx, r, rec.file, rec.why)
}

// writeRecord adds a record to its file.
func writeRecord[T any](p *program, rec record, parse func(string, []byte) (T, error)) error {
	src, err := p.files().Read(rec.file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	content, err := appended(src, rec, parse)
	if err != nil {
		return err
	}
	return p.files().Put(rec.file, content)
}

// saveRecord saves the file of a record by itself, where a reason is given. It
// gives the saved state; "" where there is no reason.
func (p *program) saveRecord(ctx context.Context, r *catalogue.Range, file, why string) (string, error) {
	if why == "" {
		return "", nil
	}
	saved, err := r.Save(ctx, catalogue.SaveRequest{Files: []string{file}, Why: why, When: p.now()})
	if errors.Is(err, catalogue.ErrUnchanged) { // somebody's save took it along
		return r.Head(), nil
	}
	if err != nil {
		return "", fmt.Errorf("it is in %s but not saved: %w\ngive the same command again, and it is saved and not written down twice", file, err)
	}
	return saved.State, nil
}

// tellSaved says in which state a record was saved, or how to save it.
func (p *printer) tellSaved(file, state string) {
	if state != "" {
		p.println("saved as " + state[:8])
		return
	}
	p.println("look at it and save it:")
	p.println("  rodlore save " + visible.Arg(file) + " --why \"…\"")
}

// onDay is a command that writes something of a range down, of the day of an option.
func (p *program) onDay(date *string, do func(ctx context.Context, r *catalogue.Range, args []string, d models.Date) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		d, err := p.dayOf(*date)
		if err != nil {
			return err
		}
		return p.look(cmd.Context(), func(r *catalogue.Range) error { return do(cmd.Context(), r, args, d) })
	}
}

// dayOf reads the day of an option; without one it is today. What has not
// happened yet is no record.
func (p *program) dayOf(text string) (models.Date, error) {
	today := day(p.now())
	if text == "" {
		text = today
	}
	d, err := time.Parse(time.DateOnly, text)
	switch {
	case err != nil:
		return models.Date{}, misuseOf("date", "%q is no day such as %s", text, today)
	case text > today:
		return models.Date{}, misuseOf("date", "%s is still to come; today is %s", text, today)
	}
	return models.Date{Day: d, Text: text}, nil
}

// recordedAs is how a record names a saved revision: by the label asked for,
// otherwise as it is recorded.
func recordedAs(rev *catalogue.Revision, asked string) string {
	if slices.Contains(rev.Labels, asked) {
		return asked
	}
	return rev.Recorded()
}

// savedRevision finds the revision that a record is of, which must be saved, and
// named by more than a date.
func savedRevision(r *catalogue.Range, arg string) (*catalogue.Revision, error) {
	find := r.Find
	model, asked, _ := strings.Cut(arg, "@")
	if catalogue.IsDate(asked) {
		find = r.Recorded
	}
	rev, err := find(model, asked)
	if err != nil {
		return nil, err
	}
	if rev.State == "" {
		return nil, fmt.Errorf("%s has edits that are not saved, and a draft can change any day: name a release or a saved revision, as in %s@saved",
			rev.Model, rev.Model)
	}
	return rev, rev.Fault()
}

// dated reads the day that a save or a release is said to be of. Without one it is
// now, or what git's environment says, which the zero time asks for.
func (p *program) dated(option string) (when time.Time, err error) {
	switch {
	case option == "" && p.env("GIT_AUTHOR_DATE")+p.env("GIT_COMMITTER_DATE") != "":
		return when, nil
	case option == "":
		return p.now(), nil
	}
	d, err := p.dayOf(option)
	year, month, day := d.Day.Date()
	return time.Date(year, month, day, 12, 0, 0, 0, p.now().Location()), err // noon, so that no zone makes another day of it
}
