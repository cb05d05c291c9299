// Package edge mounts an [http.Handler] in a runtime for workers, such as workerd, as long as the program stands there: [Serve].
//
// Requests come by github.com/syumai/workers. Its own way out ends the program with the first body that was read to its end, for it starts a program a request; so bodies go
// out past it, whole ones as bytes and long ones as a stream that waits for whoever reads. web/worker keeps the program between requests.
package edge
