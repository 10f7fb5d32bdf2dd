package catalogue

import (
	"errors"
	"regexp"
	"slices"
	"strings"
)

// tellKey is the git trailer that holds the words for customers.
const tellKey = "Tell"

// Message is what a saved state's message says: the reason, and the words for
// customers as a trailer (git-interpret-trailers(1)) whose further lines are
// indented. A trailer has no empty lines, so those of the words are left out.
func Message(why, tell string) string {
	m := strings.TrimSpace(strings.ReplaceAll(why, "\r\n", "\n")) + "\n"
	var lines []string
	for line := range strings.Lines(tell) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	if len(lines) > 0 {
		m += "\n" + tellKey + ": " + strings.Join(lines, "\n  ") + "\n"
	}
	return m
}

// checkReason refuses a reason that would not be read again as it is given.
func checkReason(why, tell string) error {
	if read, _ := readMessage(Message(why, tell)); read != strings.TrimSpace(why) {
		return errors.New("the reason ends in a paragraph that would be read as words for others, such as \"Tell: …\"; put it in other words")
	}
	return nil
}

// Trailers that say nothing of the reason, by git's own and common habit.
var habitual = []string{tellKey, "Signed-off-by", "Co-authored-by", "Acked-by", "Reviewed-by", "Tested-by", "Reported-by", "Cc", "Change-Id"}

// reverts is the sentence that git revert writes, which gives no reason: the title
// before it names what was undone.
var reverts = regexp.MustCompile(`(?m)^This reverts commit [0-9a-f]{40,64}(?:, reversing\nchanges made to [0-9a-f]{40,64})?\.(?:\n+|\z)`)

// readMessage takes a message apart, one written by plain git too: habitual
// trailers are left out of the reason.
func readMessage(m string) (why, tell string) {
	m = strings.TrimSpace(strings.ReplaceAll(m, "\r\n", "\n"))
	m = strings.TrimSpace(reverts.ReplaceAllString(m, ""))
	body, last := m, ""
	if i := strings.LastIndex(m, "\n\n"); i >= 0 {
		body, last = m[:i], m[i+2:]
	}
	fields, ok := trailers(last)
	if !ok {
		return m, ""
	}
	return strings.TrimSpace(body), fields[tellKey]
}

// trailers reads a paragraph of habitual trailers, "Key: value" a line; ok is
// false where it is anything else.
func trailers(paragraph string) (fields map[string]string, ok bool) {
	fields = map[string]string{}
	key := ""
	for line := range strings.SplitSeq(paragraph, "\n") {
		if key != "" && (strings.HasPrefix(line, " ") || strings.HasPrefix(line, "\t")) {
			fields[key] += "\n" + strings.TrimSpace(line)
			continue
		}
		k, v, found := strings.Cut(line, ": ")
		if !found || !slices.ContainsFunc(habitual, func(h string) bool { return strings.EqualFold(h, k) }) {
			return nil, false
		}
		key, fields[k] = k, v
	}
	return fields, key != ""
}
