package gitstore

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
)

// Tag puts an annotated tag on a saved state. A tag of that name, be it on the
// same state, stays and is an ErrTagTaken. The author of the tag and its time
// are as in Save. It is signed where the caller or git's own tag.gpgSign asks for it,
// with the key that git's settings name, before anything is locked: a pass phrase takes its time.
func (s *Store) Tag(ctx context.Context, t catalogue.Tag) (err error) {
	content, err := s.tagContent(ctx, t)
	if err != nil {
		return err
	}
	if err := s.checkNeighbours(t.Name); err != nil {
		return err
	}
	release, err := s.alone()
	if err != nil {
		return err
	}
	defer release()
	if _, err := s.finishPending(); err != nil {
		return err
	}
	// Looked at before the lock is taken too, since the lock of a tag below
	// another tag's name would make a folder there.
	ref := tagPrefix + t.Name
	if err := s.checkFree(ref); err != nil {
		return err
	}
	id, err := s.put(plumbing.TagObject, content)
	if err != nil {
		return err
	}
	return s.createRef(ctx, ref, id)
}

// createRef makes a tag's ref.
func (s *Store) createRef(ctx context.Context, ref string, id plumbing.Hash) (err error) {
	if err := s.writePending(pending{ref, id, "-"}); err != nil {
		return err
	}
	// A note that stays is found to be done with by the next save.
	defer func() { _ = s.dropPending() }()
	l, err := s.lock(ctx, s.refPath(ref), refContent(id))
	defer func() { err = errors.Join(err, l.release()) }()
	if err != nil {
		return err
	}
	if err := s.checkFree(ref); err != nil {
		return err
	}
	return s.commitRef(l)
}

// tagContent checks the tag and gives the content of its object.
func (s *Store) tagContent(ctx context.Context, t catalogue.Tag) ([]byte, error) {
	if err := checkRefName(t.Name); err != nil {
		return nil, err
	}
	on, ok := parseID(t.State)
	if !ok {
		return nil, fmt.Errorf("%q is no identity of a saved state", t.State)
	}
	if _, err := s.readCommit(on); err != nil {
		return nil, fmt.Errorf("the state to be tagged cannot be read: %w", err)
	}
	config, err := readSettings(s.place)
	if err != nil {
		return nil, err
	}
	signed, err := config.signatures(t.Author, t.When, t.When)
	if err != nil {
		return nil, err
	}
	message, err := cleanMessage(t.Message)
	if err != nil {
		return nil, err
	}
	content := fmt.Appendf(nil, "object %s\ntype commit\ntag %s\ntagger %s\n\n%s", on, t.Name, signed.committer, message)
	if !t.Sign && !config.signsTags() {
		return content, nil
	}
	help := "or leave --sign away"
	if config.signsTags() {
		help = "or run `git config tag.gpgSign false`"
	}
	signing, err := s.signing(help)
	if err != nil {
		return nil, err
	}
	signature, err := signing.sign(ctx, content, signed.committer.who)
	return append(content, signature...), err
}

// signsTags reports whether git is told to sign every tag; see git-config(1),
// tag.gpgSign and tag.forceSignAnnotated.
func (s settings) signsTags() bool {
	return s.isTrue("tag.gpgsign") || s.isTrue("tag.forcesignannotated")
}

// SignsTags reports whether git is told to sign every tag.
func (s *Store) SignsTags() (bool, error) {
	config, err := readSettings(s.place)
	return config.signsTags(), err
}

// checkFree refuses a tag that is there, or whose name would have to be a folder
// and a file at once.
func (s *Store) checkFree(ref string) error {
	refs, err := s.readRefs()
	if err != nil {
		return err
	}
	for name := range refs.ids {
		switch {
		case name == ref:
			return fmt.Errorf("%w: %s; choose another name, since a tag once given is not moved", catalogue.ErrTagTaken, strings.TrimPrefix(ref, tagPrefix))
		case strings.HasPrefix(name, ref+"/"), strings.HasPrefix(ref, name+"/"):
			return fmt.Errorf("%w: git cannot hold %s beside %s", catalogue.ErrTagTaken,
				strings.TrimPrefix(ref, tagPrefix), strings.TrimPrefix(name, tagPrefix))
		}
	}
	if isFile(s.refPath(ref)) {
		return fmt.Errorf("%w: %s is broken; remove %s if it is of no use", catalogue.ErrTagTaken,
			strings.TrimPrefix(ref, tagPrefix), filepath.Clean(s.refPath(ref)))
	}
	return nil
}

// checkRefName refuses what git takes for no name of a tag; see
// git-check-ref-format(1).
func checkRefName(name string) error {
	if strings.HasPrefix(name, "-") || name == "@" || plumbing.ReferenceName(tagPrefix+name).Validate() != nil {
		return fmt.Errorf("%q cannot be the name of a tag: git allows no spaces, dots in a row or ~ ^ : ? * [ \\ in it, and no part that is empty, begins with a dot or a dash, or ends with a dot or .lock",
			name)
	}
	return nil
}
