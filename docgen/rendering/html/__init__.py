"""What the HTML format needs beside its renderer."""
