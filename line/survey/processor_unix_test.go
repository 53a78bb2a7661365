//go:build unix

package survey_test

import (
	"syscall"
	"time"
)

// processor is the time that the process has had a processor, which a busy machine does not
// stretch as it does the time of the wall.
func processor() time.Duration {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
