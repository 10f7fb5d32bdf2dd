package screen

import _ "embed"

// Script is what the views do in a browser beyond HTML. The server of the views gives
// it under ScriptName, with SinceKey saying at which state of the files its view was
// laid out, and answers ChangesName.
//
//go:embed screen.js
var Script []byte

// The addresses that the script knows and views do not lead to.
const (
	ScriptName  = "screen.js"
	ChangesName = "changes" // server-sent events: one when the state is not SinceKey's any more
	SinceKey    = "since"
	VerdictName = "verdict" // of a model, as text: the script puts it in the place of the link to its review
)

// Served is the address of the script for a view laid out at a state of the files.
func Served(state string) string { return address(ScriptName, SinceKey, state) }
