"""What a user asks of a style, one module each: values in, values out, nothing printed."""
