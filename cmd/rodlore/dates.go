package main

import (
	"time"
)

// dated reads the day that a save or a release is said to be of. Without one it is
// now, or what git's environment says, which the zero time asks for.
func (p *program) dated(option string) (when time.Time, err error) {
	switch {
	case option == "" && p.env("GIT_AUTHOR_DATE")+p.env("GIT_COMMITTER_DATE") != "":
		return when, nil
	case option == "":
		return p.now(), nil
	}
	when, err = time.ParseInLocation(time.DateOnly, option, p.now().Location())
	if err != nil {
		return when, misuse("--date: %q is no day; write it as 2025-03-31", option)
	}
	if day(when) > day(p.now()) {
		return when, misuse("--date: %s is still to come; today is %s", option, day(p.now()))
	}
	return when.Add(12 * time.Hour), nil // so that no zone makes another day of it
}
