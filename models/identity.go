package models

import (
	"crypto/sha256"
	"encoding/hex"
	"iter"
	"slices"
	"strconv"
	"strings"
)

// IdentityScheme is the number of the rules by which Spec.ID makes an identity.
// By scheme 1 it was what WholeID is now.
const IdentityScheme = 2

// ID is the revision's identity: the SHA-256, in hexadecimal, of the leaves of the
// resolved spec that are of the rod. Layout, comments, the order of keys and the
// spelling of a quantity leave it as it is, and so does what is only said of the
// rod.
func (s *Spec) ID() string { id, _ := s.IDs(); return id }

// WholeID is the identity of all that the spec says: of the rod, and of what is
// wanted of it, done with it and paid for it. Figures follow from that.
func (s *Spec) WholeID() string { _, whole := s.IDs(); return whole }

// IDs are ID and WholeID, for the work of one.
func (s *Spec) IDs() (id, whole string) { return identities(s.Fields()) }

// EntryIDs are the identity of a shared entry but for its price, and that of all of it.
func EntryIDs(e SharedEntry) (id, whole string) { return identities(e.Fields()) }

// ID is the identity of what figures and their tolerances hang on in the
// settings, and of how figures are written, as that of a spec.
func (s *Settings) ID() string {
	_, whole := identities(s.figuresFollow)
	return whole
}

// identities are those of the leaves that are of the rod, and of all.
func identities(fields iter.Seq[Field]) (ofRod, whole string) {
	type leaf struct {
		text  string
		ofRod bool
	}
	var leaves []leaf
	for f := range fields {
		leaves = append(leaves, leaf{f.canonical(), f.OfRod()})
	}
	// Maps have no order, so that of the file must not show.
	slices.SortFunc(leaves, func(a, b leaf) int { return strings.Compare(a.text, b.text) })
	var rod, all []string
	for _, l := range leaves {
		all = append(all, l.text)
		if l.ofRod {
			rod = append(rod, l.text)
		}
	}
	return hashOf(rod), hashOf(all)
}

func hashOf(leaves []string) string {
	sum := sha256.Sum256([]byte(strings.Join(leaves, "\n")))
	return hex.EncodeToString(sum[:])
}

// canonical writes the leaf the one way that its path and value have. Quotes
// keep a line break in a text from looking like the next leaf.
func (f Field) canonical() string {
	return strconv.Quote(f.Path.String()) + " " + f.Unit + " " + strconv.Quote(f.CanonicalValue())
}

// CanonicalValue writes the value of the leaf one way, however it was written.
func (f Field) CanonicalValue() string {
	if f.IsText() {
		return f.Text
	}
	return strconv.FormatFloat(f.Value, 'g', -1, 64)
}
