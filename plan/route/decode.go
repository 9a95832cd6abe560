package route

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"example.org/skywedge/kit/field"
)

// declared finds the encoding that the first line of an XML file names (XML 1.0, section 2.8).
var declared = regexp.MustCompile(`^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([^"']{1,40})["']`)

// decode makes UTF-8 of the text: of UTF-16 with or without its mark, and of Latin-1 that is declared.
func (r *reader) decode() error {
	t := r.text
	switch {
	case bytes.HasPrefix(t, []byte("\xef\xbb\xbf")):
		t = t[3:]
	case bytes.HasPrefix(t, []byte("\xff\xfe")):
		t = fromUTF16(t[2:], binary.LittleEndian)
	case bytes.HasPrefix(t, []byte("\xfe\xff")):
		t = fromUTF16(t[2:], binary.BigEndian)
	case len(t) >= 2 && t[1] == 0 && (t[0] == '<' || t[0] == '{'):
		t = fromUTF16(t, binary.LittleEndian)
	case len(t) >= 2 && t[0] == 0 && (t[1] == '<' || t[1] == '{'):
		t = fromUTF16(t, binary.BigEndian)
	default:
		m := declared.FindSubmatch(t[:min(len(t), 400)])
		if m == nil {
			break
		}
		switch name := strings.ToLower(string(m[1])); name {
		case "utf-8", "utf8", "us-ascii", "ascii":
		case "iso-8859-1", "iso_8859-1", "latin1", "latin-1":
			t = fromLatin1(t)
		default:
			return r.fault(0, "encoding", field.Quoted(string(m[1])), "UTF-8, UTF-16 or ISO-8859-1: save the path as UTF-8")
		}
	}
	r.text = t
	if !utf8.Valid(t) {
		off := firstInvalid(t)
		return r.fault(off, "text", fmt.Sprintf("the byte 0x%02X, which is no UTF-8", t[off]), "UTF-8: save the path as UTF-8, or declare its encoding")
	}
	if off := bytes.IndexByte(t, 0); off >= 0 {
		return r.fault(off, "text", "a zero byte", "text")
	}
	return nil
}

func firstInvalid(t []byte) int {
	for off := 0; off < len(t); {
		c, n := utf8.DecodeRune(t[off:])
		if c == utf8.RuneError && n == 1 {
			return off
		}
		off += n
	}
	return 0
}

// fromUTF16 turns what pairs with nothing into the replacement character, and leaves out half a unit at the end.
func fromUTF16(t []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(t)/2)
	for i := range units {
		units[i] = order.Uint16(t[2*i:])
	}
	return []byte(string(utf16.Decode(units)))
}

func fromLatin1(t []byte) []byte {
	out := make([]byte, 0, len(t)+len(t)/8)
	for _, b := range t {
		out = utf8.AppendRune(out, rune(b))
	}
	return out
}
