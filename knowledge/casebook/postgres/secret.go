package postgres

import (
	"net/url"
	"slices"
	"strings"
)

// IsURL tells the URL of a database from the name of a file.
func IsURL(book string) bool {
	return strings.HasPrefix(book, "postgres://") || strings.HasPrefix(book, "postgresql://")
}

// Name is what a casebook is called where people read it: its URL without
// password and options. Of a URL that cannot be read nothing is shown.
func Name(book string) string {
	u, err := url.Parse(book)
	if err != nil {
		return "postgres://..."
	}
	name := url.URL{Scheme: "postgres", Host: u.Host, Path: u.Path}
	if user := u.User.Username(); user != "" {
		name.User = url.User(user)
	}
	return name.String()
}

// secrets are the forms that the password of a URL may have in a message.
func secrets(book string) []string {
	var out []string
	u, err := url.Parse(book)
	if err != nil {
		return nil
	}
	if p, ok := u.User.Password(); ok && p != "" {
		out = append(out, p, url.QueryEscape(p), strings.TrimPrefix(url.UserPassword("", p).String(), ":"))
	}
	for _, name := range []string{"password", "sslpassword"} {
		if p := u.Query().Get(name); p != "" {
			out = append(out, p, url.QueryEscape(p))
		}
	}
	return out
}

// hidden is an error whose text is free of secrets; the error itself is kept
// for errors.Is and As.
type hidden struct {
	text string
	err  error
}

func (h *hidden) Error() string { return h.text }
func (h *hidden) Unwrap() error { return h.err }

// hide takes the secrets out of the text of an error.
func (b *Book) hide(err error) error {
	if err == nil {
		return nil
	}
	// The driver gives each try to connect a line: with and without encryption,
	// at one address, they say the same.
	var lines []string
	for line := range strings.Lines(err.Error()) {
		// Our own words may close a bracket around the last.
		line = strings.Join(strings.Fields(line), " ")
		if at := slices.IndexFunc(lines, func(s string) bool { return s != "" && strings.HasPrefix(line, s) }); at >= 0 {
			lines = append(lines[:at], lines[at+1:]...)
		}
		lines = append(lines, line)
	}
	text := strings.Join(strings.Fields(strings.Join(lines, " ")), " ")
	for _, s := range b.secrets {
		if len(s) > 3 { // shorter ones would only blot the text; no message of the driver has a password
			text = strings.ReplaceAll(text, s, "(password)")
		}
	}
	return &hidden{text, err}
}
