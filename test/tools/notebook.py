"""Executes notebooks and writes each as one page. Run by test/tools/runNotebooks.ts from the folder of the notebooks.

    notebook.py [--keep] name.ipynb ...

Stops at the first cell that fails and prints that cell, what it printed to stderr, and its error. With --keep the new
outputs are written into the notebook; without it they must be those that it holds already.
"""
import copy
import difflib
import json
import os
import re
import sys
import time

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError, CellTimeoutError, DeadKernelError
from nbconvert import HTMLExporter
from traitlets.config import Config

SECONDS_PER_CELL = 90
HERE = os.getcwd()
TEMPLATES = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "notebooks", "template")


def execute(name, kept):
    """The notebook with the outputs of this run, or None after printing what failed."""
    notebook = copy.deepcopy(kept)
    forget_outputs(notebook)
    client = NotebookClient(
        notebook,
        timeout=SECONDS_PER_CELL,
        kernel_name="tslab",
        resources={"metadata": {"path": HERE}},
        record_timing=False,
    )
    try:
        client.execute()
    except (CellExecutionError, CellTimeoutError, DeadKernelError) as error:
        print_failure(name, notebook, error)
        return None
    return notebook


def forget_outputs(notebook):
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs = []
            cell.execution_count = None


def number_cells(notebook):
    """The kernel does not number cells itself."""
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    for count, cell in enumerate(code, start=1):
        cell.execution_count = count


def print_failure(name, notebook, error):
    cell = failing_cell(notebook, error)
    print(f"{name}: this cell failed", file=sys.stderr)
    if cell is None:
        print(error, file=sys.stderr)
        return
    print(indented(cell.source), file=sys.stderr)
    texts = [text for text in map(error_text, cell.outputs) if text != ""]
    print("\n".join(texts) or str(error), file=sys.stderr)


def failing_cell(notebook, error):
    """The last cell that was started: the one that left an error, else the last one with outputs."""
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    for cell in code:
        if any(output.output_type == "error" for output in cell.outputs):
            return cell
    source = str(error)
    matching = [cell for cell in code if cell.source.strip() and cell.source.strip() in source]
    return matching[0] if matching else None


def error_text(output):
    if output.output_type == "stream" and output.name == "stderr":
        return output.text
    if output.output_type == "error":
        return "\n".join(output.traceback) or f"{output.ename} {output.evalue}".strip()
    return ""


MOST_LINES = 12


def changed_outputs(kept, now):
    """Texts that say which cells put out something else than is kept, with the first lines that differ."""
    cells = [cell for cell in zip(kept.cells, now.cells) if cell[0].cell_type == "code"]
    texts = []
    for number, (old, new) in enumerate(cells, start=1):
        before, after = output_lines(old.outputs), output_lines(new.outputs)
        if before == after:
            continue
        lines = list(difflib.unified_diff(before, after, "kept", "now", lineterm="", n=0))
        more = [] if len(lines) <= MOST_LINES else [f"and {len(lines) - MOST_LINES} more lines"]
        shown = [line if len(line) <= 160 else line[:157] + "..." for line in lines[:MOST_LINES]]
        texts.append(f"code cell {number}:\n" + indented("\n".join(shown + more)))
    return texts


def output_lines(outputs):
    """What the outputs hold, line by line: a number that changes is then one line of a difference."""
    return json.dumps(plain(outputs), indent=1, ensure_ascii=False, sort_keys=True).split("\n")


def plain(value):
    """Outputs as plain data: lines of text apart, no count of executions and nothing about the run."""
    if isinstance(value, dict):
        return {key: plain(value[key]) for key in value if key not in ("execution_count", "metadata")}
    if isinstance(value, list):
        return [plain(each) for each in value]
    return value.split("\n") if isinstance(value, str) and "\n" in value else value


def indented(source):
    return "\n".join("    " + line for line in source.splitlines())


def page(name, notebook):
    config = Config()
    config.HTMLExporter.template_name = "page"
    config.HTMLExporter.extra_template_basedirs = [TEMPLATES]
    exporter = HTMLExporter(config=config)
    part_chart_names(notebook)
    stem = os.path.splitext(name)[0]
    body, _ = exporter.from_notebook_node(notebook, {"metadata": {"name": title_of(notebook) or stem}})
    os.makedirs("html", exist_ok=True)
    path = os.path.join("html", stem + ".html")
    with open(path, "w", encoding="utf-8") as file:
        file.write(body)
    return path


def part_chart_names(notebook):
    """Gives each drawing its own ids, so that two drawings on one page cannot take each other's."""
    drawings = [
        output.data
        for cell in notebook.cells
        for output in cell.get("outputs", [])
        if "image/svg+xml" in output.get("data", {})
    ]
    for number, data in enumerate(drawings, start=1):
        data["image/svg+xml"] = with_own_ids(data["image/svg+xml"], f"drawing{number}-")


def with_own_ids(svg, prefix):
    names = set(re.findall(r'\bid="([^"]+)"', svg))
    svg = re.sub(r'\bid="', f'id="{prefix}', svg)
    svg = re.sub(r'url\(#', f"url(#{prefix}", svg)
    svg = re.sub(r'href="#', f'href="#{prefix}', svg)
    return re.sub(
        r'\b(aria-labelledby|aria-describedby)="([^"]+)"',
        lambda match: f'{match[1]}="{" ".join(prefix + name if name in names else name for name in match[2].split())}"',
        svg,
    )


def title_of(notebook):
    for cell in notebook.cells:
        for line in cell.source.splitlines():
            if cell.cell_type == "markdown" and line.startswith("# "):
                return line[2:].strip()
    return None


def main(words):
    keep = "--keep" in words
    faults = 0
    for name in [word for word in words if not word.startswith("--")]:
        start = time.monotonic()
        kept = nbformat.read(name, as_version=4)
        notebook = execute(name, kept)
        if notebook is None:
            return 1
        number_cells(notebook)
        changed = [] if keep else changed_outputs(kept, notebook)
        if keep:
            nbformat.write(notebook, name)
        path = page(name, notebook)
        print(f"{name}: every cell ran, {time.monotonic() - start:.1f} s, written to notebooks/{path}")
        if changed:
            faults += 1
            print(f"{name}: outputs are not those kept in it. If they are right, run with --keep.", file=sys.stderr)
            print("\n".join(changed), file=sys.stderr)
    return 1 if faults else 0


sys.exit(main(sys.argv[1:]))
