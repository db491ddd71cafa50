// Package wording turns what the engine answers into plain American English.
// Every face says the same thing in the same words, so the words stand here
// once; a text for people is not to be read back by a program.
package wording
