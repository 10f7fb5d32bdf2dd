package catalogue

import (
	"context"
	"errors"
	"fmt"
	"time"

	"rodlore/catalogue/working"
)

// Source is where the saved states of a range come from and go to. Package
// gitstore has the implementation on git; tests give one in memory. Paths are
// relative to the folder of range.yaml and use slashes.
type Source interface {
	// Log reads every saved state that can be reached from the state in hand,
	// any branch or any tag.
	Log(ctx context.Context) (*Log, error)

	// Blob gives the content of a file as it was saved.
	Blob(ctx context.Context, id string) ([]byte, error)

	// Working gives the content of a file as it stands now. A file that is not
	// there gives an error that is fs.ErrNotExist.
	Working(path string) ([]byte, error)

	// WorkingFiles lists the range's files as they stand now, sorted.
	WorkingFiles() ([]string, error)

	// Obstacles lists what stands in the place of the range's files and is none.
	Obstacles() ([]working.Obstacle, error)

	// Ignored reports whether a file that was never saved is to be left alone:
	// a save takes none unasked.
	Ignored(path string) (bool, error)

	// Refused says why a file could not be saved as it stands now, or once it is
	// there, such as one that is to be encrypted on its way; nil where it can be.
	Refused(path string) error

	// Save records the files given as a new saved state on top of Parent and
	// leaves the working files untouched, so that nothing shows as changed
	// afterwards. It either records everything or nothing.
	Save(ctx context.Context, s Save) (id string, err error)

	// Tag puts an annotated tag on a saved state. A tag that is there already
	// is an ErrTagTaken and stays.
	Tag(ctx context.Context, t Tag) error
}

// Keeper is a Source that can say what of its history it has lost.
type Keeper interface {
	// Missing lists what of the history is not there any more or is damaged. It
	// believes nothing that was kept of an earlier reading.
	Missing(ctx context.Context) ([]error, error)
}

// Log is the history of a range as it stands in its repository.
type Log struct {
	Head     string   // the saved state the working files started from; "" before the first
	Branches []string // the last states of all branches, those of other repositories too
	States   []State  // children always before their parents, else newest first
	Tags     []Tag    // annotated and plain, by name
	Notes    []error  // what could not be read, such as a history cut short; stops nothing
}

// LostTag is a note of a Log: a tag that leads to no saved state.
type LostTag struct {
	Name string
	Why  error
}

func (l *LostTag) Error() string { return fmt.Sprintf("tag %s was left out: %v", l.Name, l.Why) }

func (l *LostTag) Unwrap() error { return l.Why }

// State is one saved state of the whole range.
type State struct {
	ID      string
	Parents []string // those that are in the Log
	When    time.Time
	Author  string // "Name <address>"
	Message string
	// Changes against each parent, by parent and path; for a state without
	// parents against nothing.
	Changes []Change
}

// Day is the day on which it was saved, as the clock there had it.
func (s *State) Day() string { return s.When.Format(time.DateOnly) }

// Why is the maker's reason for it.
func (s *State) Why() string { why, _ := readMessage(s.Message); return why }

// Change is one file that differs between a state and one of its parents.
type Change struct {
	Parent   int    // index into State.Parents
	Path     string // range.yaml, parts.yaml, materials.yaml, words.yaml or *.yaml in bench, builds, heard, models, notes, reviews
	Old, New string // blob identities; "" where the file is not there
}

// Tag is a name put on a saved state.
type Tag struct {
	Name    string // "skerry-10/2025"
	ID      string // identity of the tag with all that it says; of the state for a plain tag
	Named   string // the name that an annotated tag was given, the same unless it was copied
	State   string
	When    time.Time // of an annotated tag
	Author  string
	Message string // "" for a plain tag
	Sign    bool   // of one to be put: sign it as the user's git settings say
}

// Save is a new saved state to be recorded.
type Save struct {
	Parent  string            // Log.Head as the caller saw it; another head now is an ErrMoved
	Files   map[string][]byte // new content by path; nil means the file is gone
	Message string
	Author  string    // "" means the user's own git identity
	When    time.Time // it is of; zero means now
	Now     time.Time // it was put into the repository; zero means When
}

// Errors that a Source gives, wrapped with what to do about it.
var (
	ErrMoved    = errors.New("the range was saved by someone else meanwhile")
	ErrTagTaken = errors.New("the tag is there already")
	ErrNoAuthor = errors.New("nobody is named as the one who saves")
)

// Witness is a Source that can also say whether what it holds is whole, and whose it
// is.
type Witness interface {
	// Intact reads a saved state again, with all files of the range in it, and
	// holds every object against its identity.
	Intact(ctx context.Context, state string) error

	// Signature says whether a tag is signed, and by whom.
	Signature(ctx context.Context, t Tag) (Signature, error)

	// SignsTags reports whether tags are signed unasked.
	SignsTags() (bool, error)

	// RemoteTags gives the identities of the tags that another repository has, by
	// their names. An empty name is the remote that is there.
	RemoteTags(ctx context.Context, remote string) (name string, ids map[string]string, err error)
}

// Signature is that of a tag. One that holds has By.
type Signature struct {
	Format string   // openpgp, x509 or ssh; "" where the tag is not signed
	By     []string // who made it: names and addresses that the user's settings vouch for, and the key
	Why    string   // why it proves nothing; "" where it holds
	Broken bool     // it is no signature of the tag, whoever made it
}
