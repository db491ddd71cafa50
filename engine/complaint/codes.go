package complaint

import (
	"strings"
	"unicode/utf8"
)

// Code is a trouble code of a scan list.
type Code struct {
	Name   string // "P0741"; letters in capitals, no failure type byte
	Status string // "pending", "stored", "permanent", "history"; "" when the list does not say
	Words  string // what the list says beside it
}

// statusWords are the words by which scan tools tell the status of a code.
var statusWords = map[string]string{
	"pending": "pending", "maturing": "pending", "stored": "stored", "confirmed": "stored", "active": "stored", "current": "stored", "present": "stored",
	"permanent": "permanent", "history": "history", "historic": "history", "historical": "history", "past": "history", "inactive": "history",
}

// maxWords is how many bytes of the words beside a code are kept.
const maxWords = 200

// Codes finds the trouble codes (P, C, B and U with four hexadecimal digits) in
// a pasted scan list, in its order and each once. A failure type byte behind a
// code ("P0741-00") is left out. A status stands behind its code or heads a
// line ("Pending: P0741, P0700") and the lines below it; a code listed twice keeps the status that is
// surer, stored before history before pending. Time is linear in the text.
func Codes(text string) []Code {
	var out []Code
	at := map[string]int{}
	head := ""
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		found := codesIn(line)
		if len(found) == 0 {
			if s := statusOf(line); s != "" {
				head = s // a heading of its own: "Pending codes"
			} else if strings.TrimSpace(line) != "" && strings.HasSuffix(strings.TrimSpace(line), ":") {
				head = ""
			}
			continue
		}
		lead := head
		if s := statusOf(line[:found[0].from]); s != "" {
			lead, head = s, s
		}
		for i, f := range found {
			end := len(line)
			if i+1 < len(found) {
				end = found[i+1].from
			}
			words := line[f.to:end]
			status := statusOf(words)
			if status == "" {
				status = lead
			}
			c := Code{Name: f.name, Status: status, Words: tidy(words)}
			if n, had := at[c.Name]; had {
				if sureness[c.Status] > sureness[out[n].Status] {
					out[n].Status = c.Status
				}
				if out[n].Words == "" {
					out[n].Words = c.Words
				}
				continue
			}
			at[c.Name] = len(out)
			out = append(out, c)
		}
	}
	return out
}

var sureness = map[string]int{"": 0, "pending": 1, "history": 2, "permanent": 3, "stored": 4}

type spot struct {
	name     string
	from, to int
}

// codesIn finds the codes of a line; bytes, for codes are plain letters.
func codesIn(line string) []spot {
	var out []spot
	for i := 0; i+5 <= len(line); i++ {
		if i > 0 && alnum(line[i-1]) {
			continue
		}
		name, ok := codeAt(line[i : i+5])
		if !ok {
			continue
		}
		to := i + 5
		switch {
		case to+3 <= len(line) && (line[to] == '-' || line[to] == ':') && hex(line[to+1]) && hex(line[to+2]) && (to+3 == len(line) || !alnum(line[to+3])):
			to += 3 // the failure type byte: P0741-00
		case to+2 <= len(line) && hex(line[to]) && hex(line[to+1]) && (to+2 == len(line) || !alnum(line[to+2])):
			to += 2 // P074100
		case to < len(line) && alnum(line[to]):
			continue
		}
		out = append(out, spot{name, i, to})
		i = to - 1
	}
	return out
}

// codeAt reads five bytes as a code. A letter O for a nought is forgiven.
func codeAt(s string) (string, bool) {
	b := []byte(strings.ToUpper(s))
	if len(b) != 5 || !strings.ContainsRune("PCBU", rune(b[0])) {
		return "", false
	}
	for i := 1; i < 5; i++ {
		if b[i] == 'O' {
			b[i] = '0'
		}
		if !hex(b[i]) || i == 1 && b[i] > '3' {
			return "", false
		}
	}
	digits := 0
	for i := 1; i < 5; i++ {
		if s[i] >= '0' && s[i] <= '9' {
			digits++
		}
	}
	return string(b), digits >= 1 // "coded" is a word
}

func alnum(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

func hex(c byte) bool { return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F' }

func statusOf(words string) string {
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if s := statusWords[w]; s != "" {
			return s
		}
	}
	return ""
}

func tidy(words string) string {
	words = strings.Join(strings.Fields(strings.Trim(words, " \t-:;,/|()[]*\"")), " ")
	if len(words) > maxWords {
		words = words[:maxWords]
		for !utf8.ValidString(words) && len(words) > 0 {
			words = words[:len(words)-1]
		}
	}
	return words
}
