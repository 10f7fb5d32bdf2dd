package oldnotes

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// The ways in which days are noted. With slashes the day and the month cannot be
// told apart, so those are refused.
var (
	yearFirst = regexp.MustCompile(`^(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?$`)
	dayFirst  = regexp.MustCompile(`^(?:(?:(\d{1,2})\.)?(\d{1,2})\.)?(\d{4})$`)
)

// readDay reads 2019, 2019-03, 2019-03-14, 3.2019 or 14.3.2019. Of a year or a
// month alone it is the first day, and exact is false.
func readDay(text string, now time.Time) (day time.Time, exact bool, err error) {
	text = strings.TrimSpace(text)
	var year, month, date string
	if m := yearFirst.FindStringSubmatch(text); m != nil {
		year, month, date = m[1], m[2], m[3]
	} else if m := dayFirst.FindStringSubmatch(text); m != nil {
		date, month, year = m[1], m[2], m[3]
	} else {
		return day, false, fmt.Errorf("%q is no day; write 2019, 2019-03 or 2019-03-14", text)
	}
	day = noon(number(year, 1), time.Month(number(month, 1)), number(date, 1), now.Location())
	switch {
	case int(day.Month()) != number(month, 1) || day.Day() != number(date, 1):
		return day, false, fmt.Errorf("%q: there is no such day", text)
	case day.Year() < 1970:
		return day, false, fmt.Errorf("%q: git keeps no day before 1970; give a later one and say in the reason when it was", text)
	case day.Format(time.DateOnly) > now.Format(time.DateOnly):
		return day, false, fmt.Errorf("%q is still to come", text)
	}
	return day, date != "", nil
}

// number reads digits; "" gives what is taken where there are none.
func number(digits string, otherwise int) int {
	n, err := strconv.Atoi(digits)
	if err != nil {
		return otherwise
	}
	return n
}
