package cache

import "encoding/binary"

// Pack adds texts to a record, each after its length.
func Pack(record []byte, texts ...string) []byte {
	for _, text := range texts {
		record = append(binary.AppendUvarint(record, uint64(len(text))), text...)
	}
	return record
}

// Cut takes texts off the front of a record, whose memory they share, and gives what is
// left of it; ok is false where that is not there.
func Cut(record string, texts ...*string) (rest string, ok bool) {
	for _, text := range texts {
		length, used := uvarint(record)
		if used == 0 || length > uint64(len(record)-used) {
			return "", false
		}
		end := used + int(length)
		*text, record = record[used:end], record[end:]
	}
	return record, true
}

// uvarint is binary.Uvarint for a string; used is 0 where there is no number.
func uvarint(s string) (n uint64, used int) {
	for i := 0; i < len(s) && i < binary.MaxVarintLen64; i++ {
		n |= uint64(s[i]&0x7f) << (7 * i)
		if s[i] < 0x80 {
			return n, i + 1
		}
	}
	return 0, 0
}
