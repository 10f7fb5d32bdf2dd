package gitstore

import (
	"fmt"
	"strings"
)

// checkNeighbours refuses a tag that would be one of another range of the
// repository as well: git has its tags for all of them, and a release of a model
// would be told of the other's model of that name.
func (s *Store) checkNeighbours(tag string) error {
	model, _, _ := strings.Cut(tag, "/")
	index, err := s.readStaging()
	if err != nil {
		return err
	}
	for _, e := range index.entries {
		prefix, ok := strings.CutSuffix(e.name, "models/"+model+".yaml")
		if ok && prefix != s.prefix && index.find(prefix+rangeFile) >= 0 {
			return fmt.Errorf("%s would be a release of %s too, of another range in this repository: call one of the models otherwise (was: keeps its history), or keep that range in a repository of its own",
				tag, e.name)
		}
	}
	return nil
}
