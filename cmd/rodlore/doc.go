// Command rodlore keeps the design history of a rod maker's range: what every
// revision of every model was, how the rod made by it weighs, bends and
// recovers, and what changed from one to the next.
//
// This package is the only one that knows the command line, the terminal and
// exit codes. A command finds its values in the packages below, and prints
// them as text or, with --json, as data.
//
// A new command is a file with its newX, its entry in root.go and, for its data, an
// object (json.go), with its keys in json_test.go. It opens the range by inRange and
// ends with show. What shows a value is a method of
// printer, which knows the terminal and nothing of ranges; what can be done about an
// error or a note stands in hints.go.
package main
