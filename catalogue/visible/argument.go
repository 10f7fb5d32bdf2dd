package visible

import (
	"runtime"
	"strings"
	"unicode"
)

// Arg is a word as it is written on a command line to mean itself: in quotes
// where the shell would take any of it for something else.
func Arg(word string) string {
	if runtime.GOOS == "windows" {
		return windowsArg(word)
	}
	return posixArg(word)
}

// plain are the characters that mean themselves in any shell.
const plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789@%+:,./_-"

// posixArg quotes a word as XCU 2.2.2 of POSIX.1-2017 has it: within single
// quotes everything means itself but the single quote. Letters of other
// alphabets mean themselves.
func posixArg(word string) string {
	if isPlain(word, plain) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// windowsArg quotes a word for PowerShell, where a single quote is doubled. It
// takes a backslash as a part of paths.
func windowsArg(word string) string {
	if isPlain(word, strings.NewReplacer("@", "", "%", "", ",", "").Replace(plain)+`\`) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", "''") + "'"
}

func isPlain(word, plain string) bool {
	return word != "" && strings.IndexFunc(word, func(r rune) bool {
		return r < 0x80 && !strings.ContainsRune(plain, r) || r >= 0x80 && !unicode.In(r, unicode.L, unicode.M, unicode.N)
	}) < 0
}
