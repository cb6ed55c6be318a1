// Command brinecut sorts the scrap of desktop printers: it tells what a mixed bin holds, what to test
// next, and what each fraction is good for.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
