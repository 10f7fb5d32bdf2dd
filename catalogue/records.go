package catalogue

// Records is what the workshop writes down of its rods: what it measured, built, heard
// and ticked.
type Records struct {
	*History
	*Evaluator
}

// The folders of what the workshop writes down of its rods.
const (
	benchFolder   = "bench"   // a file a rod measured
	buildsFolder  = "builds"  // a file a year
	heardFolder   = "heard"   // a file a model
	notesFolder   = "notes"   // a file a model
	reviewsFolder = "reviews" // a file a model
)

var recordFolders = []string{benchFolder, buildsFolder, heardFolder, notesFolder, reviewsFolder}
