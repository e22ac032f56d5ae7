package logbook

import (
	"os"
	"time"
)

// Stamp tells one state of the files from another, as far as the file system does.
type Stamp map[string]fileStamp

type fileStamp struct {
	size  int64
	inode uint64
	time  time.Time
}

// Stamp looks at the files now; one that is missing is a state too.
func (lb *Logbook) Stamp() Stamp {
	s := Stamp{}
	for _, t := range tables {
		if info, err := os.Stat(lb.path(t.file)); err == nil {
			s[t.file] = fileStamp{info.Size(), inodeOf(info), info.ModTime()}
		}
	}
	return s
}

// Written are the states of the files just before and just after this logbook last held
// the lock: what lies between them nobody else has recorded.
func (lb *Logbook) Written() (before, after Stamp) { return lb.before, lb.after }
