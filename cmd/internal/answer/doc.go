// Package answer holds what every use case gives to every face: typed data
// with the rules and the method behind it, failures with a code, hints as
// data, and the JSON envelope of all of them. It knows no use case and no
// face.
package answer
