"""One writer per format; each turns drawings into the text or bytes of a file and leaves the writing to others."""
