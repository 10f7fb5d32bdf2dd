package catalogue

import "strings"

// tellKey is the git trailer that holds the words for customers.
const tellKey = "Tell"

// Message is what a saved state's message says: the reason, and the words for
// customers as a trailer (git-interpret-trailers(1)) whose further lines are
// indented.
func Message(why, tell string) string {
	m := strings.TrimSpace(why) + "\n"
	if tell = strings.TrimSpace(tell); tell != "" {
		m += "\n" + tellKey + ": " + strings.ReplaceAll(tell, "\n", "\n  ") + "\n"
	}
	return m
}

// readMessage takes a message apart, one written by plain git too: trailers
// other than ours are left out of the reason.
func readMessage(m string) (why, tell string) {
	m = strings.TrimSpace(strings.ReplaceAll(m, "\r\n", "\n"))
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

// trailers reads a paragraph of "Key: value" lines; ok is false where it is
// anything else.
func trailers(paragraph string) (fields map[string]string, ok bool) {
	fields = map[string]string{}
	key := ""
	for line := range strings.SplitSeq(paragraph, "\n") {
		if key != "" && (strings.HasPrefix(line, " ") || strings.HasPrefix(line, "\t")) {
			fields[key] += "\n" + strings.TrimSpace(line)
			continue
		}
		k, v, found := strings.Cut(line, ": ")
		if !found || k == "" || strings.ContainsAny(k, " \t") {
			return nil, false
		}
		key, fields[k] = k, v
	}
	return fields, key != ""
}
