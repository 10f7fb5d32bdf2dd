// Package spelling finds what a mistyped word was meant to be, and writes words
// and lists of them as messages quote them. It imports nothing of ours.
//
// Whatever quotes a maker's word in a message does it by this.
package spelling
