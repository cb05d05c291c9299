// Package sentences is what is said of a job: the results of package evaluate in the words of package words, for whoever reads them.
//
// Start with [New], which is an evaluator that can tell, and [Teller.Sentences]. There are sentences about a row, what is to be done at its feet ([Teller.Todo]), its card on paper
// ([Teller.Card]), the board of a whole job ([Teller.Board]), what trains, rounds, packs and earlier jobs come to, and what a cell was understood as ([Teller.Meaning]).
// Numbers stand in the units shown, sides by the names people gave them.
//
// Left out on purpose: everything that is worked out (package evaluate), the texts themselves (package words), tables and files of results (package results).
package sentences
