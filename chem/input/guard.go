package input

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// Limits on what Parse reads. No file that people write comes near them; a
// decoder without them needs seconds and gigabytes for a small hostile file.
const (
	MaxBytes  = 1 << 20 // size of a file in bytes
	MaxDepth  = 16      // levels of arrays and inline tables within one value
	MaxDotted = 8       // parts of a dotted key or of a table header
	MaxKeys   = 20_000  // keys, tables and array elements in all
)

// What is said of a file that passes a limit.
var (
	tooDeep   = fmt.Sprintf("arrays and tables are nested more than %d levels deep", MaxDepth)
	readLimit = "these files are read only up to that limit"
)

var byteOrderMark = []byte("\xef\xbb\xbf")

// checkEncoding reports a file that is not text in UTF-8, or too large.
func (s *source) checkEncoding() Problems {
	text := s.text
	switch {
	case len(text) > MaxBytes:
		return Problems{{File: Clean(s.name, 0), Message: "the file is larger than 1 MiB", Hint: "is this the right file? These files are a few kilobytes of text"}}
	case len(bytes.TrimSpace(bytes.TrimPrefix(text, byteOrderMark))) == 0:
		return Problems{{File: Clean(s.name, 0), Position: Position{1, 1}, Message: "the file is empty"}}
	case isUTF16(text):
		return Problems{{File: Clean(s.name, 0), Position: Position{1, 1}, Message: "the file is encoded as UTF-16", Hint: "save it as UTF-8"}}
	}
	if i := bytes.IndexByte(text, 0); i >= 0 {
		return Problems{s.bare(i, "the file holds a NUL byte", "this is a binary or damaged file; these files are plain text in UTF-8")}
	}
	if i := invalidUTF8(text); i >= 0 {
		return Problems{s.bare(i, fmt.Sprintf("the byte 0x%02X is not valid UTF-8", text[i]), "save the file as UTF-8, or check that this is a text file")}
	}
	return nil
}

// bare is a problem without excerpt, for a line that is no text.
func (s *source) bare(offset int, message, hint string) Problem {
	return Problem{File: Clean(s.name, 0), Position: s.position(offset), Message: message, Hint: hint}
}

// isUTF16 recognises the byte order marks of UTF-16 and the zero bytes that
// plain text without one has in every other place.
func isUTF16(text []byte) bool {
	if bytes.HasPrefix(text, []byte{0xff, 0xfe}) || bytes.HasPrefix(text, []byte{0xfe, 0xff}) {
		return true
	}
	head := text[:min(len(text), 64)&^1]
	zeros := [2]int{}
	for i, c := range head {
		if c == 0 {
			zeros[i%2]++
		}
	}
	half := len(head) / 2
	return half >= 4 && (zeros[0] == 0 && zeros[1] == half || zeros[1] == 0 && zeros[0] == half)
}

func invalidUTF8(text []byte) int {
	if utf8.Valid(text) {
		return -1
	}
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}
