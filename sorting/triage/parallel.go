package triage

import (
	"runtime"
	"sync"
)

// parallel calls work for 0 … n-1 on the processors there are. Each call writes to places of its own,
// so that the answer does not depend on their order.
func parallel(n int, work func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	if workers <= 1 {
		for i := range n {
			work(i)
		}
		return
	}
	var wg sync.WaitGroup
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	for range workers {
		wg.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	wg.Wait()
}
