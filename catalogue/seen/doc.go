// Package seen remembers, in a file of the user's own, the releases that were seen
// on this computer, as each was when it was seen first. What is done to a
// repository afterwards does not change what is remembered of it.
//
// It imports nothing of ours, and knows neither git nor specs.
package seen
