"""Parts of the PDF renderer: lines, blocks, tables, pages, and the canvas that tags what it paints."""
