package photo

import (
	"bytes"
	"image"
)

// stands says whether a picture is ready as its file has it: upright and no
// larger than a printed photo. Packed once more it would only lose detail.
func stands(data []byte, cfg image.Config, turn side) bool {
	return turn == 1 && max(cfg.Width, cfg.Height) <= longSide && len(data) <= wanted
}

// bare is a JPEG of one scan in the colours of a camera, without what else its
// file carries: the camera's notes, where it was taken, a small copy. Nothing
// of any other kind.
//
// Source: ITU-T T.81, annex B: SOI, tables, SOF0 (baseline), SOS, EOI; after
// the head of a scan a marker is FF and neither 00 (a byte FF) nor D0 to D7
// (restart). Colours YCbCr without a marker saying so: JFIF 1.02, components 1
// to 3.
func bare(data []byte) ([]byte, bool) {
	out := make([]byte, 0, len(data))
	if !bytes.HasPrefix(data, []byte("\xFF\xD8")) {
		return nil, false
	}
	out = append(out, data[:2]...)
	for at := 2; at+4 <= len(data) && data[at] == 0xFF; {
		marker, end := data[at+1], at+2+int(data[at+2])<<8+int(data[at+3])
		if end > len(data) || end < at+4 {
			return nil, false
		}
		segment := data[at:end]
		switch marker {
		case 0xDB, 0xC4, 0xDD: // DQT, DHT, DRI
			out = append(out, segment...)
		case 0xC0: // SOF0: length, precision, height, width, 3, components of 3 bytes
			if len(segment) != 19 || segment[4] != 8 || segment[9] != 3 || segment[10] != 1 || segment[13] != 2 || segment[16] != 3 {
				return nil, false
			}
			out = append(out, segment...)
		case 0xDA: // SOS: length, components in this scan
			if len(segment) < 5 || segment[4] != 3 {
				return nil, false
			}
			scan := data[at:]
			for i := len(segment); i+1 < len(scan); i++ {
				if m := scan[i+1]; scan[i] == 0xFF && m != 0 && (m < 0xD0 || m > 0xD7) {
					return append(out, scan[:i+2]...), m == 0xD9
				}
			}
			return nil, false
		case 0xEE: // Adobe's word on the colours
			return nil, false
		default: // other frames are not baseline
			if marker < 0xE0 || (marker > 0xEF && marker != 0xFE) {
				return nil, false
			}
		}
		at = end
	}
	return nil, false
}
