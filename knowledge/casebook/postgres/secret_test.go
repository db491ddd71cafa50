package postgres

import (
	"context"
	"strings"
	"testing"
)

// A server that is not there is named once, though the driver tries it with and
// without encryption.
func TestAddressIsNamedOnce(t *testing.T) {
	t.Parallel()
	_, err := Open(context.Background(), "postgres://u@127.0.0.1:1/db", Options{MustExist: true, Wait: 1})
	if err == nil {
		t.Fatal("opened what is not there")
	}
	if n := strings.Count(err.Error(), "connection refused"); n != 1 || strings.Count(err.Error(), "(127.0.0.1)") != 1 {
		t.Errorf("said %d times: %v", n, err)
	}
}
