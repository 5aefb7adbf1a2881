package hostile

import (
	"bytes"
	"encoding/binary"
)

// zip64 is a zip with its list written in the large kind, as some programs
// write every zip. at is added to the place of the list.
//
// Source: the ZIP application note (APPNOTE 6.3) 4.3.12, 4.3.14 to 4.3.16 and
// 4.5.3.
func zip64(data []byte, at uint64) []byte {
	const most = 0xffffffff
	le := binary.LittleEndian
	end := bytes.LastIndex(data, []byte("PK\x05\x06"))
	list, n := int(le.Uint32(data[end+16:])), uint64(le.Uint16(data[end+10:]))
	out := bytes.Clone(data[:list])
	for c := data[list:end]; len(c) > 0; {
		name, extra, comment := int(le.Uint16(c[28:])), int(le.Uint16(c[30:])), int(le.Uint16(c[32:]))
		large := le.AppendUint16(le.AppendUint16(nil, 1), 24)
		for _, field := range []int{24, 20, 42} { // unpacked, packed, place
			large = le.AppendUint64(large, uint64(le.Uint32(c[field:])))
			le.PutUint32(c[field:], most)
		}
		le.PutUint16(c[30:], uint16(extra+len(large)))
		out = append(append(append(out, c[:46+name+extra]...), large...), c[46+name+extra:46+name+extra+comment]...)
		c = c[46+name+extra+comment:]
	}
	size, place := uint64(len(out)-list), uint64(len(out))
	out = le.AppendUint64(append(out, "PK\x06\x06"...), 44)
	out = append(out, 45, 0, 45, 0, 0, 0, 0, 0, 0, 0, 0, 0)
	for _, v := range []uint64{n, n, size, uint64(list) + at} {
		out = le.AppendUint64(out, v)
	}
	out = le.AppendUint64(append(out, "PK\x06\x07\x00\x00\x00\x00"...), place)
	out = append(out, 1, 0, 0, 0)
	return append(out, "PK\x05\x06\x00\x00\x00\x00\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\x00\x00"...)
}
