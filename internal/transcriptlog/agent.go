package transcriptlog

import (
	"bytes"
	"errors"
	"fmt"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"
)

// AgentSigner signs with a key that an ssh agent holds. It asks the agent for
// its keys at once, so that an agent without the key is found before the
// session begins and not at its end; it does not ask for a signature. An agent
// that is locked shows no key.
func AgentSigner(conn agent.Agent, want ssh.PublicKey) (Signer, error) {
	if err := checkSigningKey(want); err != nil {
		return nil, fmt.Errorf("ssh agent: %w", err)
	}
	keys, err := conn.Signers()
	if err != nil {
		return nil, fmt.Errorf("ssh agent: %w: %w", ErrNoAnswer, err)
	}
	if len(keys) == 0 {
		return nil, errors.New("ssh agent: it shows no key at all: it is locked, or empty")
	}
	for _, k := range keys {
		if bytes.Equal(k.PublicKey().Marshal(), want.Marshal()) {
			return keySigner{k}, nil
		}
	}
	return nil, fmt.Errorf("ssh agent: it does not hold the key %s", Fingerprint(want))
}
