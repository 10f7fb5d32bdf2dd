package evaluate

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

type watched struct{}

// Watched is a context under which InParallel tells watch how many of how many
// things are done, after each, from several goroutines.
func Watched(ctx context.Context, watch func(done, all int)) context.Context {
	return context.WithValue(ctx, watched{}, watch)
}

// InParallel does n things, numbered from 0, on every processor and returns
// when all are done. Working out a rod takes one of them about a millisecond.
// Once ctx is done no further thing is begun, and the error is that of ctx. A panic in
// one of them is that of the caller, who may outlive it.
func InParallel(ctx context.Context, n int, do func(i int)) error {
	watch, _ := ctx.Value(watched{}).(func(done, all int))
	var next, done atomic.Int64
	var workers sync.WaitGroup
	var broken atomic.Pointer[any]
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			defer func() {
				if why := recover(); why != nil {
					broken.Store(&why)
				}
			}()
			for i := next.Add(1) - 1; i < int64(n) && ctx.Err() == nil && broken.Load() == nil; i = next.Add(1) - 1 {
				do(int(i))
				if watch != nil {
					watch(int(done.Add(1)), n)
				}
			}
		})
	}
	workers.Wait()
	if why := broken.Load(); why != nil {
		panic(*why)
	}
	return ctx.Err()
}
