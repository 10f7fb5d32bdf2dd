package evaluate

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// InParallel does n things, numbered from 0, on every processor and returns
// when all are done. Working out a rod takes one of them about a millisecond.
func InParallel(n int, do func(i int)) {
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	workers.Wait()
}
