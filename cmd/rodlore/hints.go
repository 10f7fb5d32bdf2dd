package main

import (
	"errors"
	"fmt"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
)

// The packages below name no commands: what can be done about an error, a note or
// a reason stands here, and is put behind its sentence.

// deeds are what can be done about an error, filled in with its Args as a shell
// takes them and, behind them, as they are.
var deeds = map[catalogue.Deed]string{
	catalogue.AddModel:     `; put one in with "rodlore add %[1]s"`,
	catalogue.SaveModel:    `; do so with "rodlore save %[1]s --why …"`,
	catalogue.SaveFirst:    `; save them first with "rodlore save %[1]s --why …"`,
	catalogue.OrRelease:    `; save them first with "rodlore save %[1]s --why …", or release %[1]s@saved without them`,
	catalogue.ListHistory:  `; "rodlore history %[1]s" lists the revisions`,
	catalogue.ListRods:     `; "rodlore built list" lists them`,
	catalogue.WriteDownRod: `; "rodlore built add MODEL@LABEL --serial %[1]s" does it`,
	catalogue.BringBack:    `; ask for %[1]s@saved, or bring the file back with "git checkout -- %[2]s"`,
	catalogue.MakeHistory:  `: run "git init -b main" in %[1]s`,
	catalogue.FindIgnored:  `: "git check-ignore -v %[1]s" says where; take that line out, or put the line !%[2]s after it`,
	catalogue.GiveReason:   ` with --why "…": the reason is what you will look for in later years`,
	catalogue.SeeTheirs:    `; look at that ("git diff HEAD -- %[1]s") and save again`,
	catalogue.ReleaseAny:   `: release one with "rodlore release MODEL LABEL"`,
}

// withDeed is an error's text with what can be done about it.
func withDeed(err error) string {
	var a *catalogue.Advised
	if !errors.As(err, &a) {
		return err.Error()
	}
	args := make([]any, 0, 2*len(a.Args))
	for _, arg := range a.Args {
		args = append(args, visible.Arg(arg))
	}
	for _, arg := range a.Args {
		args = append(args, arg)
	}
	return err.Error() + fmt.Sprintf(deeds[a.Do], args...)
}

// goneFile says of a saved model that its file is gone, and what can be done.
func goneFile(model string) string {
	return fmt.Sprintf(`its file is gone; "rodlore put-back %[1]s" brings it back, "rodlore save %[1]s --why …" takes it out`, visible.Arg(model))
}

// lookAndSave offers the commands that show a draft and save it.
func (p *printer) lookAndSave(look, model string) {
	p.println("  rodlore " + look + " " + visible.Arg(model))
	p.println("  rodlore save " + visible.Arg(model) + " --why \"…\"")
}

// told puts notes into words.
func told(t say.Teller, notes []catalogue.Note) []string {
	texts := t.Notes(notes)
	for i, n := range notes {
		if n.Key == "notes.measured faults" {
			texts[i] += `; "rodlore check" lists them`
		}
	}
	return texts
}

// reasonWords says what speaks against a rod of a model.
func reasonWords(t say.Teller, model string) func(catalogue.Reason) string {
	return func(r catalogue.Reason) string {
		text := t.Note(r.Note)
		switch r.Key {
		case "reasons.not saved":
			text += fmt.Sprintf(`: run "rodlore save %s --why …"`, visible.Arg(model))
		case "reasons.no words":
			text += ": save with --tell"
		}
		if r.Top != "" {
			return t.Say("reasons.with top", "top", r.Top, "what", text)
		}
		return text
	}
}

// alteredWords says what is wrong with a release, and the git command that shows
// it.
func alteredWords(t say.Teller, a catalogue.Alteration) (text, show string) {
	text, show = t.Note(a.Note), "git show "+visible.Arg(a.Tag)
	switch a.Key {
	case "altered.moved":
		show = "git show --stat " + visible.Arg(a.Tag)
	case "altered.gone", "altered.gone renamed":
		show = "git show " + visible.Arg(fmt.Sprint(a.Args["tag"]))
	case "altered.gone since", "altered.gone since renamed", "altered.other since":
		show = "git show " + visible.Arg(fmt.Sprint(a.Args["id"]))
		text += fmt.Sprintf(`; where that is right, "rodlore check --forget=%s"`, visible.Arg(strings.Replace(a.Tag, "/", "@", 1)))
	case "altered.only remote":
		show = "git fetch --tags"
	case "altered.broken signature", "altered.unknown signature", "altered.foreign signature", "altered.other signer":
		show = "git tag -v " + visible.Arg(a.Tag)
	case "altered.unsigned":
		text += fmt.Sprintf(`; "rodlore release %s %s --sign" signs the same rod under another label and vouches for it`,
			visible.Arg(a.Model+"@"+a.Label), visible.Arg(a.Label+"-b"))
	case "altered.on no branch":
		show = "git log --oneline " + visible.Arg("HEAD.."+a.Tag)
		text += fmt.Sprintf(`; keep it with "git branch %s %s"`, visible.Arg("released-"+a.Label), visible.Arg(a.Tag))
	case "altered.other spec":
		show = fmt.Sprintf("git log -p -1 %s -- %s", visible.Arg(a.Tag), visible.Arg(fmt.Sprint(a.Args["file"])))
		if blob := a.Args["blob"]; blob != "" {
			text += fmt.Sprintf(`; "git cat-file -p %s" prints what was released, if git still has it`, blob)
		}
	}
	return text, show
}
