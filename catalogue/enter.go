package catalogue

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"rodlore/catalogue/oldnotes"
	"rodlore/models"
	"rodlore/models/units"
)

// Noted is an entry of old notes as the rod that it tells of.
type Noted struct {
	oldnotes.Entry
	Spec *models.Spec
	Text []byte // of the spec
	// Assumed are the rings, by their index in the spec, whose part is not noted
	// and is the one that the spec of now has in their place.
	Assumed []int
	// Same says that it is the very rod of the entry before, with nothing else said
	// of it.
	Same bool
	// State is the saved state that has it already; "" where none does.
	State string
}

// Understand makes rods of entries: rings noted stand on the model's spec as it is
// now, with the parts and materials of now. The error is a models.Faults where
// entries cannot be built, each fault where it is noted.
func (s *Saves) Understand(model string, entries []oldnotes.Entry) ([]Noted, error) {
	parts, materials, err := s.Shared()
	if err != nil {
		return nil, err
	}
	if s.Missing(model) {
		if err := s.MayAdd(model); err != nil {
			return nil, err
		}
	}
	base, err := s.baseOf(model, entries)
	if err != nil {
		return nil, err
	}
	var faults models.Faults
	noted := make([]Noted, len(entries))
	for i, e := range entries {
		n, err := base.rod(e, parts, materials)
		if err == nil {
			err = n.Spec.Gaps(n.Spec.Tops...)
		}
		var found models.Faults
		switch {
		case errors.As(err, &found):
			faults = append(faults, found...)
		case err != nil:
			faults = append(faults, &models.Fault{Pos: e.Pos, Msg: err.Error()})
		case i > 0 && noted[i-1].Spec != nil:
			n.Same = n.Spec.WholeID() == noted[i-1].Spec.WholeID()
		}
		if err := checkReason(e.Why, e.Tell); err != nil {
			faults = append(faults, &models.Fault{Pos: e.Pos, Path: "why", Msg: err.Error()})
		}
		if e.Label.Text != "" && !isLabel(e.Label.Text) {
			faults = append(faults, &models.Fault{Pos: e.Label.Pos, Path: "release", Msg: fmt.Sprintf("%q is no label; %s", e.Label.Text, labelHelp)})
		}
		noted[i] = n
	}
	if err := models.Together(faults); err != nil {
		return nil, err
	}
	return noted, s.matchSaved(model, noted)
}

// base is the spec that noted rings stand on.
type base struct {
	file string
	src  []byte
	spec *models.Model
}

// baseOf is the model's spec as it stands now. Entries that are whole specs need
// none.
func (s *Saves) baseOf(model string, entries []oldnotes.Entry) (*base, error) {
	b := &base{file: modelFile(model)}
	if !slices.ContainsFunc(entries, func(e oldnotes.Entry) bool { return e.Spec == nil }) {
		return b, nil
	}
	src, err := s.src.Working(b.file)
	if err != nil {
		return nil, s.noModel(model, err)
	}
	b.src = src
	b.spec, err = models.ParseModel(b.file, src)
	return b, err
}

// rod is an entry as a rod.
func (b *base) rod(e oldnotes.Entry, parts *models.Parts, materials *models.Materials) (n Noted, err error) {
	n.Entry = e
	if e.Spec != nil {
		n.Text = e.Spec
		n.Spec, err = models.ParseSpec(e.SpecFile, e.Spec, parts, materials)
		return n, err
	}
	m := *b.spec
	m.Rings, n.Assumed = b.withParts(e.Rings)
	if n.Spec, err = models.Resolve(&m, parts, materials); err != nil {
		return n, err
	}
	n.Text, err = models.SpliceRings(b.file, b.src, m.Rings)
	return n, err
}

// withParts gives noted rings the tip ring and the parts that are not noted: those
// of the ring that stands at the same place in the count from the tip, or where
// there are more or fewer, of the nearest.
func (b *base) withParts(noted []models.Ring) (rings []models.Ring, assumed []int) {
	now := b.spec.Rings
	if len(now) == 0 {
		return noted, nil
	}
	if noted[0].At.Value != 0 {
		rings = append(rings, now[0])
	}
	rings = append(rings, noted...)
	for i := range rings {
		if rings[i].Part.Text != "" {
			continue
		}
		like := nearest(now, rings[i].At.Value)
		if len(rings) == len(now) {
			like = now[i]
		}
		rings[i].Part.Text, rings[i].Whipping = like.Part.Text, like.Whipping
		assumed = append(assumed, i)
	}
	return rings, assumed
}

// nearest is the running ring nearest to a place, or the tip ring at its own.
func nearest(rings []models.Ring, at units.Length) models.Ring {
	if at == rings[0].At.Value || len(rings) == 1 {
		return rings[0]
	}
	distance := func(r models.Ring) units.Length { return max(r.At.Value-at, at-r.At.Value) }
	return slices.MinFunc(rings[1:], func(a, b models.Ring) int { return cmp.Compare(distance(a), distance(b)) })
}

// matchSaved finds the entries that were saved already. Saved revisions lie before
// all others: what is noted cannot be put under them.
func (s *Saves) matchSaved(model string, noted []Noted) error {
	l, err := s.lineage(model)
	if errors.Is(err, ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	saved := l.told() // oldest first
	next := 0
	for i := range noted {
		at := slices.IndexFunc(saved[next:], func(said *saying) bool {
			return said.whole == noted[i].Spec.WholeID() && (l.dayOf(said) == noted[i].Day.Format(time.DateOnly) || noted[i].Same)
		})
		if at < 0 && noted[i].Same && next > 0 {
			noted[i].State = l.States[saved[next-1].state].ID
			continue
		}
		if at < 0 {
			break
		}
		next += at
		noted[i].State = l.States[saved[next].state].ID
	}
	for _, n := range noted {
		if last := len(saved) - 1; n.State == "" && last >= 0 && n.Day.Format(time.DateOnly) < l.dayOf(saved[last]) {
			return models.Faults{{Pos: n.Pos, Path: "date", Msg: fmt.Sprintf(
				"%s has a revision of %s already, and history is only added to; enter older notes under a new name, before its first save",
				model, l.dayOf(saved[last]))}}
		}
	}
	return nil
}

// Enter saves what was noted, a state a rod, each with its day and reason. What is
// saved already is passed over, so that what was broken off is ended by the same
// call. It gives the state of every rod. The first state has the shared files with
// it, as they stand.
func (s *Saves) Enter(ctx context.Context, model string, noted []Noted, now time.Time) ([]string, error) {
	head := s.index.Head
	shared, err := s.edits(ctx, &scope{files: map[string]bool{rangeFile: true, partsFile: true, materialsFile: true}})
	if err != nil {
		return nil, err
	}
	if faults, err := s.sharedFaults(shared); err != nil || len(faults) > 0 {
		return nil, errors.Join(err, faults.Sorted())
	}
	states := make([]string, len(noted))
	for i, n := range noted {
		switch {
		case n.State != "":
			states[i] = n.State
			continue
		case n.Same && i > 0:
			states[i] = states[i-1]
			continue
		}
		files := map[string][]byte{modelFile(model): n.Text}
		for f, src := range shared {
			files[f] = src
		}
		head, err = s.src.Save(ctx, Save{Parent: head, Files: files, Message: Message(n.Why, n.Tell), When: n.Day, Now: now})
		if err != nil {
			return states, fmt.Errorf("%s: %w; the entries before it are saved: enter the same notes again to go on", n.Pos, err)
		}
		states[i], shared = head, nil
	}
	return states, nil
}
