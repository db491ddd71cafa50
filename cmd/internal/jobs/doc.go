// Package jobs plays written jobs against the program: a driver and a shop
// whose answers are facts on paper (testdata/jobs). It holds tests only.
package jobs
