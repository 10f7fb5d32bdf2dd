package evaluate

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// InParallel does n things, numbered from 0, on every processor and returns
// when all are done. Working out a rod takes one of them about a millisecond.
// Once ctx is done no further thing is begun, and the error is that of ctx.
func InParallel(ctx context.Context, n int, do func(i int)) error {
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := next.Add(1) - 1; i < int64(n) && ctx.Err() == nil; i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	workers.Wait()
	return ctx.Err()
}
