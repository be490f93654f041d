//go:build unix

package store

import (
	"errors"
	"os"
	"syscall"
	"time"
)

// lockFile takes the lock that bbolt takes too, and returns false when another program keeps it for
// longer than timeout. It ends when the file is closed.
func lockFile(file *os.File, timeout time.Duration) (bool, error) {
	for end := time.Now().Add(timeout); ; time.Sleep(20 * time.Millisecond) {
		err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if err == nil {
			return true, nil
		}
		if !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR) {
			return false, err
		}
		if time.Now().After(end) {
			return false, nil
		}
	}
}
