// Package pagetest holds what is printed and shown against programs that had no
// hand in making it: a browser, a validator of HTML, a checker of accessibility
// and a reader of PDF.
//
// A program that is not installed skips the test and says so; where the
// environment has CI set, it fails the test.
//
// Only tests import it, and it imports nothing of ours.
package pagetest
