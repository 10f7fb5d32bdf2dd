// Package working reads and writes the files of a range's folder as they stand
// now. All of it goes through a [Dir], which nothing leads out of: not a path,
// and not a symbolic link that came with a clone. What it reads is an ordinary
// file of bounded size; what it writes is there whole or not at all.
//
// It imports nothing of ours. Another way in which files of a range are changed goes
// here, and nowhere else.
package working
