package builtins

import (
	"context"

	"thole/builtins/account"
	"thole/builtins/session"
)

// Run runs a study with every word of the language, and completes what it told:
// the defaults that were in use join the assumptions, the standing cautions the
// study's own. A config from Configure is taken as it is, so that the caller can
// ask Rowed of it afterwards.
func Run(ctx context.Context, name string, text []byte, cfg session.Config) *session.Outcome {
	if cfg.Library == nil {
		cfg = Configure(cfg)
	}
	out := session.Run(ctx, name, text, cfg)
	account.Complete(out.Document, cfg)
	return out
}

// Configure gives a session the language and a fresh book of what is in use.
func Configure(cfg session.Config) session.Config {
	cfg.Library = Library()
	cfg.Extra = account.New()
	return cfg
}
