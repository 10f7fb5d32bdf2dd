package gitstore

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"time"

	"rodlore/catalogue"
)

// signatures are who wrote a state or a tag and who put it into the repository.
type signatures struct {
	author, committer signature
}

// signature is "Name <address>" with the time as git writes it.
type signature struct {
	who  string
	when time.Time
}

func (s signature) String() string {
	return fmt.Sprintf("%s %d %s", s.who, s.when.Unix(), s.when.Format("-0700"))
}

var signaturePattern = regexp.MustCompile(`^[^<>\n\x00]* <[^<>\n\x00]*>$`)

// signatures are the author given, for both, or else the user's own as git
// knows it. The zero time is now.
func (s settings) signatures(author string, when time.Time) (signatures, error) {
	if when.IsZero() {
		when = time.Now()
	}
	if when.Unix() < 0 {
		return signatures{}, fmt.Errorf("git keeps no time before 1970, and %s is", when.Format(time.DateOnly))
	}
	if author != "" {
		if !signaturePattern.MatchString(author) {
			return signatures{}, fmt.Errorf("the author is written Name <address>, not %q", author)
		}
		given := signature{author, when}
		return signatures{given, given}, nil
	}
	a, errA := s.identity("author")
	c, errC := s.identity("committer")
	return signatures{signature{a, when}, signature{c, when}}, cmp.Or(errA, errC)
}

// identity is the user's "Name <address>" as an author or a committer, from the
// places that git-commit(1), section COMMIT INFORMATION, gives.
func (s settings) identity(role string) (string, error) {
	env := "GIT_" + strings.ToUpper(role)
	name := cmp.Or(os.Getenv(env+"_NAME"), s.value(role+".name"), s.value("user.name"))
	address := cmp.Or(os.Getenv(env+"_EMAIL"), s.value(role+".email"), s.value("user.email"), os.Getenv("EMAIL"))
	name, address = cleanIdentity(name), cleanIdentity(address)
	if name == "" || address == "" {
		return "", fmt.Errorf("%w: run `git config --global user.name \"Your Name\"` and `git config --global user.email you@example.org`",
			catalogue.ErrNoAuthor)
	}
	return name + " <" + address + ">", nil
}

// cleanIdentity takes out what would end the name or the address early.
func cleanIdentity(text string) string {
	drop := func(r rune) rune {
		if strings.ContainsRune("<>\n\r\x00", r) {
			return -1
		}
		return r
	}
	return strings.TrimSpace(strings.Map(drop, text))
}

// cleanMessage is text as a commit or tag holds it.
func cleanMessage(text string) (string, error) {
	if strings.ContainsRune(text, 0) {
		return "", errors.New("a message cannot hold a zero byte")
	}
	text = strings.TrimSpace(strings.ToValidUTF8(strings.ReplaceAll(text, "\r\n", "\n"), "\uFFFD"))
	if text == "" {
		return "", errors.New("git keeps no state or tag without a message: say what it is about")
	}
	return text + "\n", nil
}
