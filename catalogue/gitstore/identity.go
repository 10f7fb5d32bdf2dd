package gitstore

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strconv"
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

var signaturePattern = regexp.MustCompile(`^[^<>\n\x00]+ <[^<>\n\x00]*>$`)

// signatures are the author given, for both, or else the user's own as git
// knows it. The zero time is the one that git's environment gives, or now.
// now is when the committer did it, where that was not when the author did.
func (s settings) signatures(author string, when, now time.Time) (signed signatures, err error) {
	if signed.author.when, err = orEnvironment(when, "GIT_AUTHOR_DATE"); err != nil {
		return signed, err
	}
	if now.IsZero() {
		now = when
	}
	if signed.committer.when, err = orEnvironment(now, "GIT_COMMITTER_DATE"); err != nil {
		return signed, err
	}
	if author != "" {
		if !signaturePattern.MatchString(author) {
			return signed, fmt.Errorf("the author is written Name <address>, not %q", author)
		}
		signed.author.who, signed.committer.who = author, author
		return signed, nil
	}
	var errA, errC error
	signed.author.who, errA = s.identity("author")
	signed.committer.who, errC = s.identity("committer")
	return signed, cmp.Or(errA, errC)
}

// orEnvironment is when, or else the time in a variable of the environment, in
// git's own format ("seconds zone") or that of RFC 3339, or else now.
func orEnvironment(when time.Time, variable string) (time.Time, error) {
	given := os.Getenv(variable)
	if when.IsZero() && given == "" {
		return time.Now(), nil
	}
	if when.IsZero() {
		seconds, zone, _ := strings.Cut(strings.TrimPrefix(given, "@"), " ")
		if n, err := strconv.ParseInt(seconds, 10, 64); err == nil {
			when = stamp{n, parseZone(zone)}.time()
		} else if when, err = time.Parse(time.RFC3339, given); err != nil {
			return when, fmt.Errorf("%s is %q: write it as 2025-03-31T09:00:00+01:00", variable, given)
		}
	}
	if when.Unix() < 0 {
		return when, fmt.Errorf("git keeps no time before 1970, and %s is", when.Format(time.DateOnly))
	}
	return when, nil
}

// identity is the user's "Name <address>" as an author or a committer, from the
// places that git-commit(1), section COMMIT INFORMATION, gives.
func (s settings) identity(role string) (string, error) {
	env := "GIT_" + strings.ToUpper(role)
	name := cmp.Or(os.Getenv(env+"_NAME"), s.value(role+".name"), s.value("user.name"))
	address := cmp.Or(os.Getenv(env+"_EMAIL"), s.value(role+".email"), s.value("user.email"), os.Getenv("EMAIL"))
	name, address = cleanIdentity(name), cleanIdentity(address)
	if name == "" || address == "" {
		return "", fmt.Errorf("%w: git does not know who you are; run `git config --global user.name \"Your Name\"` and `git config --global user.email you@example.org`",
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
