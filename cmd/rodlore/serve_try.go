package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"strconv"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/screen"
	"rodlore/catalogue/working"
	"rodlore/diffing"
	"rodlore/models"
)

// kept is the range as trials read it, opened once for many of them.
type kept struct {
	*catalogue.Range
	open   io.Closer
	state  string            // of the files, when it was opened
	drafts map[string]*draft // by model
	read   int               // how many drafts and trials
}

// mostRead is how many drafts and trials a range reads before it is opened anew, since it
// remembers something of each: of a draft with a long history some 300 kB.
const mostRead = 200

// draft is a model as its file says.
type draft struct {
	*catalogue.Revision
	text    []byte
	verdict string // "" until it is asked for
}

// draft reads a draft where that was not read yet.
func (k *kept) draft(files working.Dir, model string) (*draft, error) {
	if d := k.drafts[model]; d != nil {
		return d, nil
	}
	rev, err := k.Find(model, "draft")
	if err != nil {
		return nil, err
	}
	text, err := files.Read(rev.File)
	if err != nil {
		return nil, err
	}
	k.drafts[model] = &draft{rev, text, ""}
	k.read++
	return k.drafts[model], nil
}

// stale reports whether a draft that was read is another one now.
func (k *kept) stale(files working.Dir, model string) bool {
	d := k.drafts[model]
	if d == nil {
		return false
	}
	now, err := files.Read(d.File)
	return err != nil || !bytes.Equal(now, d.text)
}

// trying gives the range to one trial at a time.
func (s *screenServer) trying(ctx context.Context, model string, do func(*kept) error) error {
	if namesNothing(model) {
		return fmt.Errorf("%q: %w", model, catalogue.ErrNotFound)
	}
	s.trials.Lock()
	defer s.trials.Unlock()
	files := s.program.files()
	state, _ := s.files.now()
	for _, file := range []string{"range.yaml", "parts.yaml", "materials.yaml"} {
		if info, err := os.Stat(files.Within(file)); err == nil {
			state += " " + info.ModTime().String()
		}
	}
	if s.kept != nil && (s.kept.read >= mostRead || s.kept.state != state || s.kept.stale(files, model)) {
		_ = s.kept.open.Close()
		s.kept = nil
	}
	if s.kept == nil {
		// It outlives the request. What is tried is kept from no run to the next.
		src, open, err := s.source()
		if err != nil {
			return err
		}
		r, err := s.prepared(context.WithoutCancel(ctx), src)
		if err != nil {
			return errors.Join(err, open.Close())
		}
		s.kept = &kept{r, open, state, map[string]*draft{}, 0}
	}
	return do(s.kept)
}

// verdict says whether a model could go on sale as it stands. The range at a glance asks
// so of those that somebody looks at.
func (s *screenServer) verdict(w http.ResponseWriter, r *http.Request) {
	model := r.FormValue(screen.RodKey)
	var said string
	err := s.trying(r.Context(), model, func(of *kept) error {
		d, err := of.draft(s.program.files(), model)
		if err != nil {
			return err
		}
		if d.verdict == "" {
			v, err := screen.New(of.Range, s.now(), screen.Workshop)
			if err != nil {
				return err
			}
			if d.verdict, err = v.Judged(r.Context(), d.Revision); err != nil {
				return err
			}
		}
		said = d.verdict
		return nil
	})
	if err != nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, _ = io.WriteString(w, said)
}

// try shows a draft with what is set of it, or writes it.
func (s *screenServer) try(w http.ResponseWriter, r *http.Request) {
	model := r.FormValue(screen.RodKey)
	state, _ := s.files.now()
	var doc *document.Document
	written := false
	err := s.trying(r.Context(), model, func(of *kept) error {
		t, err := s.trial(of, model, r.PostForm)
		if err != nil {
			return err
		}
		if r.PostForm.Get(screen.WishKey) == screen.KeepWish && t.Theirs == "" && t.Failed == nil && t.Rod.Fault() == nil {
			if t.Failed = s.putDraft(of.Range, model, t.was, []byte(t.Text)); t.Failed == nil {
				written = true
				return nil
			}
		}
		v, err := screen.New(of.Range, s.now(), screen.Workshop)
		if err != nil {
			return err
		}
		doc, err = v.Try(r.Context(), &t.Trial)
		return err
	})
	switch {
	case written:
		http.Redirect(w, r, screen.After(screen.RodView, model, ""), http.StatusSeeOther)
		return
	case errors.Is(err, catalogue.ErrNotFound):
		w.WriteHeader(http.StatusNotFound)
	case err != nil:
		w.WriteHeader(http.StatusInternalServerError)
	}
	if err != nil {
		doc = s.failure(document.Paragraph(document.Plain(withDeed(err))))
	}
	s.write(w, doc, state)
}

// trial is a trial, and the file as it stands.
type trial struct {
	screen.Trial
	was []byte
}

// trial is what a form says, or that of the file where there is none.
func (s *screenServer) trial(of *kept, model string, form url.Values) (*trial, error) {
	draft, err := of.draft(s.program.files(), model)
	if err != nil {
		return nil, err
	}
	of.read++
	t := &trial{was: draft.text, Trial: screen.Trial{
		Model: model, File: draft.File, Rod: draft.Revision, Sum: fmt.Sprintf("%x", sha256.Sum256(draft.text)), Text: string(draft.text), Set: map[string]string{},
		Count: form.Get(screen.CountKey), ButtRing: form.Get(screen.ButtRingKey), Load: form.Get(screen.LoadKey), Pull: form.Get(screen.PullKey), Dragged: form.Has(screen.DraggedKey),
	}}
	if form.Has(screen.TextKey) {
		t.Text = unixLines(form.Get(screen.TextKey))
		if bytes.Contains(t.was, []byte("\r\n")) {
			t.Text = strings.ReplaceAll(t.Text, "\n", "\r\n")
		}
	}
	for key, values := range form {
		if path, ok := strings.CutPrefix(key, screen.SetKey); ok {
			t.Set[path] = strings.TrimSpace(values[0])
		}
	}
	if path := strings.TrimSpace(form.Get(screen.OtherKey)); path != "" {
		t.Set[path] = strings.TrimSpace(form.Get(screen.OtherValueKey))
		t.Other = [2]string{path, t.Set[path]}
	}
	if err := t.read(of.Range, form.Get(screen.WishKey)); err != nil {
		return nil, err
	}
	if form.Has(screen.SumKey) && form.Get(screen.SumKey) != t.Sum {
		t.Theirs = diffing.Text(t.File, string(t.was), t.File, t.Text)
	}
	t.usual(of.Range)
	return t, nil
}

// read puts into the text what is set, and lays the rings out where that is asked
// for. With a fault the text stays as it was, and the values are told apart from it.
func (t *trial) read(of *catalogue.Range, wish string) error {
	text, err := models.SetValues(t.File, []byte(t.Text), t.Set)
	if errors.As(err, new(models.Faults)) {
		return nil // the draft has these faults too
	}
	if err == nil {
		t.Rod, err = of.Trial(t.Model, text)
	} else {
		t.Failed, err = err, nil
	}
	switch {
	case err != nil:
		return err
	case t.Failed != nil, t.Rod.Fault() != nil:
		t.Values, err = models.Values(t.File, []byte(t.Text))
		return err
	}
	if other, err := t.wished(of, wish, text); err != nil {
		t.Failed = err
	} else if other != nil {
		rod, err := of.Trial(t.Model, other)
		if err != nil {
			return err
		}
		if t.Failed = rod.Fault(); t.Failed == nil {
			text, t.Count, t.ButtRing, t.Rod = other, "", "", rod
		}
	}
	t.Text, t.Set, t.Other = string(text), nil, [2]string{}
	t.Values, err = models.Values(t.File, text)
	return err
}

// wished is the text with rings and plies as a button asks for; nil where it asks for
// something else.
func (t *trial) wished(of *catalogue.Range, wish string, text []byte) ([]byte, error) {
	wish, path, _ := strings.Cut(wish, " ")
	switch wish {
	case screen.EvenWish:
		return evenOut(of, t.Rod.Spec(), text, patternOptions{count: t.Count, buttRing: t.ButtRing})
	case screen.MoreWish:
		return models.AddEntry(t.File, text, path)
	case screen.LessWish:
		return models.RemoveEntry(t.File, text, path)
	}
	return nil, nil
}

// usual fills in what was not said.
func (t *trial) usual(of *catalogue.Range) {
	if t.Rod.Fault() != nil {
		return
	}
	if t.Count == "" {
		t.Count = strconv.Itoa(len(t.Rod.Spec().Rings) - 1)
	}
	if figs, err := of.Figures(t.Rod); err == nil && (t.Load == "" || t.Pull == "") {
		t.Usual(figs)
	}
}

// evenOut lays the rings out in the text of a spec, as patterns does.
func evenOut(of *catalogue.Range, spec *models.Spec, text []byte, o patternOptions) ([]byte, error) {
	from, to, err := o.counts(len(spec.Rings) - 1)
	if err != nil {
		return nil, err
	}
	if from != to {
		return nil, misuse("%q is no one number of rings", o.count)
	}
	buttRing, err := o.buttRingFromTip(spec)
	if err != nil {
		return nil, err
	}
	rods, err := of.Rods()
	if err != nil {
		return nil, err
	}
	patterns, err := rods.Of(spec).Patterns()
	if err != nil {
		return nil, err
	}
	laid, err := patterns.Lay(from, buttRing)
	if err != nil {
		return nil, err
	}
	return models.SpliceRings(spec.File, text, laid.Spec.Rings)
}
