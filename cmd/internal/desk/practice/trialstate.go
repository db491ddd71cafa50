package practice

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine/trial"
)

// trialStateVersion changes when vehicles or what is kept of them change.
const trialStateVersion = 1

// trialHeader is the first line of a file that keeps a trial. Vehicles are the
// same wherever all of it is; how many are asked for does not matter.
type trialHeader struct {
	Version     int     `json:"slipcase_trial"`
	Unit        string  `json:"unit"`
	Rules       string  `json:"rules"`
	Seed        uint64  `json:"seed"`
	Perturb     float64 `json:"perturb"`
	Calibration bool    `json:"only_calibration"`
}

// trialState keeps the vehicles of a trial, a line each, as they are worked out.
type trialState struct {
	f    *os.File
	have map[int]*trial.Outcome
}

// trialLine is one vehicle.
type trialLine struct {
	Vehicle int            `json:"vehicle"`
	Outcome *trial.Outcome `json:"outcome"`
}

// openTrialState reads what a file keeps of this trial; a file that is not there
// or is empty is begun. A last line that was not written whole is taken off.
func openTrialState(path string, h trialHeader) (*trialState, error) {
	no := func(err error) error {
		what, do := wording.TrialNotKept(path, err)
		return answer.Fail(answer.Unavailable, what, do)
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, no(errors.New("it is no regular file"))
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, no(err)
	}
	fail := func(err error) (*trialState, error) { f.Close(); return nil, err }
	text, err := io.ReadAll(f)
	if err != nil {
		return fail(no(err))
	}
	s := &trialState{f, map[int]*trial.Outcome{}}
	lines := bytes.SplitAfter(text, []byte("\n"))
	good := 0 // bytes
	for i, line := range lines {
		if !bytes.HasSuffix(line, []byte("\n")) {
			if i == 0 && len(line) > 0 {
				return fail(notATrial(path, 1))
			}
			break
		}
		if i == 0 {
			var was trialHeader
			if json.Unmarshal(line, &was) != nil || was.Version == 0 {
				return fail(notATrial(path, 1))
			}
			if was != h {
				what, do := wording.AnotherTrial(path, was.Unit, was.Seed, was.Perturb)
				return fail(answer.Fail(answer.Conflict, what, do))
			}
		} else {
			var x trialLine
			if json.Unmarshal(line, &x) != nil || x.Outcome == nil {
				return fail(notATrial(path, i+1))
			}
			s.have[x.Vehicle] = x.Outcome
		}
		good += len(line)
	}
	if err := f.Truncate(int64(good)); err != nil {
		return fail(no(err))
	}
	if _, err := f.Seek(int64(good), io.SeekStart); err != nil {
		return fail(no(err))
	}
	if good == 0 {
		if err := s.write(h); err != nil {
			return fail(no(err))
		}
	}
	return s, nil
}

func notATrial(path string, line int) error {
	what, do := wording.NoTrialLine(path, line)
	return answer.Fail(answer.Damaged, what, do)
}

// below counts the vehicles kept of the first n.
func (s *trialState) below(n int) int {
	k := 0
	for i := range s.have {
		if i < n {
			k++
		}
	}
	return k
}

func (s *trialState) known(i int) *trial.Outcome { return s.have[i] }

func (s *trialState) keep(i int, o *trial.Outcome) error {
	if err := s.write(trialLine{i, o}); err != nil {
		what, do := wording.TrialFull(s.f.Name(), err)
		return answer.Fail(answer.Unavailable, what, do)
	}
	return nil
}

// write adds a line in one piece.
func (s *trialState) write(x any) error {
	line, err := json.Marshal(x)
	if err != nil {
		return err
	}
	_, err = s.f.Write(append(line, '\n'))
	return err
}

func (s *trialState) close() { s.f.Close() }
