package command

import (
	"io"
	"os"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// maxCheckpoints is the most bytes of checkpoints that are read, some thousand of them.
const maxCheckpoints = 1 << 20

// readProcedureFile reads a procedure, block or sheet file. Of one that is too large it reads just
// enough for the loader to see that and refuse it: a file without end must not fill the memory.
func readProcedureFile(name string) ([]byte, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, procedures.MaxFile+1))
}

// readCheckpointFile reads checkpoints from a file, or from in where the name is "-".
func readCheckpointFile(name string, in io.Reader) ([]byte, error) {
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		in = file
	}
	data, err := io.ReadAll(io.LimitReader(in, maxCheckpoints+1))
	if err == nil && len(data) > maxCheckpoints {
		err = phrase.Error("command.readfile.larger-than-bytes", maxCheckpoints)
	}
	return data, err
}
