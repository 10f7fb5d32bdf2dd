package catalogue

import (
	"strings"
	"testing"
)

// What git revert writes below its title is no reason.
func TestRevertIsNoReason(t *testing.T) {
	sha := strings.Repeat("ab12", 10)
	for message, want := range map[string]string{
		"Revert \"a ring fewer\"\n\nThis reverts commit " + sha + ".\n":                                         "Revert \"a ring fewer\"",
		"Revert \"a ring fewer\"\n\nThis reverts commit " + sha + ".\n\nCustomers missed it.\n":                 "Revert \"a ring fewer\"\n\nCustomers missed it.",
		"Revert \"x\"\n\nThis reverts commit " + sha + ", reversing\nchanges made to " + sha + ".\n\nTell: b\n": "Revert \"x\"",
	} {
		if why, _ := readMessage(message); why != want {
			t.Errorf("%q, want %q", why, want)
		}
	}
}
