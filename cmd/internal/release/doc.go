// Command release builds what is handed out: static programs for six targets,
// man pages, shell completions, the notices of every linked module, and their
// checksums. The same sources give the same bytes, on any machine with the same
// version of Go:
//
//	go run ./cmd/internal/release -version 1.0.0 -out dist
package main
