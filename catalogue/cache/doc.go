// Package cache keeps what was worked out from run to run, in files of the
// user's cache folder. It knows nothing of what it keeps, and imports nothing of
// ours.
//
// What is kept can be removed at any time; then it is worked out again. Nothing
// in it is believed that this user's rodlore did not write: every record carries
// a code of authenticity (HMAC, RFC 2104) by a secret that is the user's own and
// lies apart. So a file that was put there by someone else, damaged or of another
// kind holds nothing. It is for its users to keep a record under all that it follows from,
// so that it cannot go out of date.
package cache
