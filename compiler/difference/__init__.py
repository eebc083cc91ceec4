"""Two sides of a style: what differs between them, in its sentences and on the cloth."""
