// Package gitstore reads and writes the history of a range in a git repository. It is the
// only package that knows git; it knows files and their identities, and nothing
// of what stands in them.
//
// # Reading
//
// [Store.Log] reads the graph of saved states in one pass and compares every
// state with each of its real parents. What it has worked out it keeps in the
// user's cache folder, see [Store.Keep], so that the next reading only looks at what
// is new and that the rest is still there. A state that cannot be read is a note
// and is left out; the rest of the history is read on.
//
// Whatever object is read is held against its identity. [Store.Intact] reads all of
// a saved state so, [Store.Missing] looks for every folder and file of the history.
//
// # Writing
//
// [Store.Save] and [Store.Tag] write as git does: objects first, then the branch
// under git's own lock files, compared with what the caller saw before it is
// moved, and last the index entries of exactly the files saved. Whatever else
// was staged or changed stays as it was. A save that is cut short at any point
// leaves the state before or the state after; where the branch had moved and the
// index had not, the next opening finishes it from the note kept in
// rodlore/pending, and the log has a note of it. A tag that is cut short is there
// whole or not at all.
//
// A program that is killed while it writes one of git's lock files may leave a
// lock that is written in part; the next save names the file to be removed, as git
// does.
//
// # Signing
//
// A tag is signed where the caller or tag.gpgSign asks for it, a saved state where
// commit.gpgSign does, with the key that git's settings name. Signatures of tags are
// checked against the keys that the user trusts. Which program does it is read from
// the system's and the user's own settings alone.
//
// # What git does and this does not
//
// Hooks are not run, and content goes through no filter but the ends of lines: where
// .gitattributes asks for more, a save is refused. Of conditional
// includes in git's settings (includeIf) only gitdir is followed. The environment
// counts for identities, times and the places of the settings, and for nothing
// else: GIT_DIR and the like are ignored, since the range says where it is.
//
// # What goes here
//
// Whatever is git's: objects, references, settings, attributes, signatures. It imports
// catalogue for what a Source gives and takes, cache, visible and working.
package gitstore
