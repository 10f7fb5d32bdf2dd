package cache

import "encoding/binary"

// Pack adds texts to a record, each after its length.
func Pack(record []byte, texts ...string) []byte {
	for _, text := range texts {
		record = append(binary.AppendUvarint(record, uint64(len(text))), text...)
	}
	return record
}

// Unpack gives the texts in a record, which share its memory; ok is false where some of
// it makes no sense, which is left out with what follows it.
func Unpack(record string) (texts []string, ok bool) {
	for record != "" {
		length, used := uvarint(record)
		if used == 0 || length > uint64(len(record)-used) {
			return texts, false
		}
		texts, record = append(texts, record[used:used+int(length)]), record[used+int(length):]
	}
	return texts, true
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
