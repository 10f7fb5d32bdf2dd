package gitstore

import (
	"bytes"
	"errors"
	"strconv"
	"strings"
	"time"

	"github.com/go-git/go-git/v5/plumbing"
	"golang.org/x/text/encoding/htmlindex"
)

// commit is what a commit object says.
type commit struct {
	id        plumbing.Hash
	name      string // id as people write it
	tree      plumbing.Hash
	parents   []plumbing.Hash
	authored  stamp
	committed stamp
	author    string
	message   string
}

// stamp is when something was written, by the clock and place of its writer.
type stamp struct {
	unix   int64 // seconds
	offset int   // seconds east of Greenwich
}

// The years that a time can be written in by RFC 3339, and so be part of JSON.
var (
	earliest = time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC).Unix()
	latest   = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC).Unix()
)

// time gives the stamp as a time within the years 1 to 9999.
func (s stamp) time() time.Time {
	return time.Unix(min(max(s.unix, earliest), latest), 0).In(time.FixedZone("", s.offset))
}

var errNoTree = errors.New("it names no tree")

// parseCommit reads the content of a commit. Whatever is not needed to find
// files may be missing or odd; that it names no tree is an error.
func parseCommit(id plumbing.Hash, raw []byte) (*commit, error) {
	c := &commit{id: id, name: id.String()}
	header, message := splitHeader(raw)
	charset := ""
	for line := range bytes.Lines(header) {
		key, value, _ := strings.Cut(string(bytes.TrimRight(line, "\n")), " ")
		switch key {
		case "tree":
			c.tree, _ = parseID(value)
		case "parent":
			if p, ok := parseID(value); ok {
				c.parents = append(c.parents, p)
			}
		case "author":
			c.author, c.authored = parseSignature(value)
		case "committer":
			_, c.committed = parseSignature(value)
		case "encoding":
			charset = value
		}
	}
	if c.tree.IsZero() {
		return nil, errNoTree
	}
	if c.authored == (stamp{}) {
		c.authored = c.committed // git itself always writes both
	}
	c.author, c.message = decode(charset, c.author), decode(charset, string(message))
	return c, nil
}

// splitHeader parts the lines of a commit or tag from its message.
func splitHeader(raw []byte) (header, message []byte) {
	header, message, _ = bytes.Cut(raw, []byte("\n\n"))
	return header, message
}

// parseSignature reads "Name <address> seconds zone". What is odd in it is
// taken as far as it can be read.
func parseSignature(line string) (who string, when stamp) {
	end := strings.LastIndexByte(line, '>')
	if end < 0 {
		return strings.TrimSpace(line), when
	}
	who = strings.TrimSpace(line[:end+1])
	fields := strings.Fields(line[end+1:])
	if len(fields) > 0 {
		// Out of range gives the nearest there is, and no number gives zero.
		when.unix, _ = strconv.ParseInt(fields[0], 10, 64)
	}
	if len(fields) > 1 {
		when.offset = parseZone(fields[1])
	}
	return who, when
}

// parseZone reads +hhmm as seconds; what is no zone is Greenwich.
func parseZone(zone string) int {
	n, err := strconv.Atoi(zone)
	if err != nil || len(zone) != 5 || n < -2400 || n > 2400 {
		return 0
	}
	return (n/100*60 + n%100) * 60
}

// decode turns text in a commit's own encoding, where it names one, into UTF-8.
func decode(charset, text string) string {
	if charset != "" {
		if enc, err := htmlindex.Get(charset); err == nil {
			if out, err := enc.NewDecoder().String(text); err == nil {
				text = out
			}
		}
	}
	return strings.ToValidUTF8(text, "\uFFFD")
}
