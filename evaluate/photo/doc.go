// Package photo measures on photographs: from positions in a picture to places on
// the bent rod. It opens no more of a picture than its size and which way up it is,
// and knows nothing of rods. It imports nothing of ours.
package photo
