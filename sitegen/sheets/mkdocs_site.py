"""The only file that knows MkDocs: pages made in memory, one environment a process.

MkDocs gives the file model, the page loop and the writing of files.  No Markdown is read by it: a sheet is a
template over an Offer.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from jinja2 import Environment
from jinja2.exceptions import TemplateError
from mkdocs.commands.build import build as mkdocs_build
from mkdocs.config import config_options as options
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.plugins import BasePlugin, PluginCollection
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page as MkDocsPage
from mkdocs.theme import Theme
from msgspec import Struct

from sitegen.errors import BuildError


class Page(Struct, frozen=True):
    """One page: where it goes, its title, the template that makes it, and what the template may use."""

    file: str
    title: str
    template: str
    context: Mapping[str, Any]


class _SheetPage(MkDocsPage):
    """A page whose HTML its template makes; MkDocs reads and renders no Markdown for it."""

    template_name = ""

    def read_source(self, config: MkDocsConfig) -> None:
        self.markdown, self.meta = "", {"template": self.template_name}

    def render(self, config: MkDocsConfig, files: Files) -> None:
        self.content, self.toc = "", []  # type: ignore[assignment]
        self.present_anchor_ids, self.links_to_anchors = set(), {}


class _Sheets(BasePlugin):  # type: ignore[type-arg, no-untyped-call]
    """Hands our pages and our environment to MkDocs, and nothing from any folder."""

    def __init__(self, pages: Sequence[Page], assets: Mapping[str, str | bytes], env: Environment) -> None:
        super().__init__()
        self.env = env
        self.assets = assets
        self.pages = {made.file.replace(".html", ".md"): made for made in pages}

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
        ours = Files([])
        for source, made in self.pages.items():
            file = File.generated(config, source, content="", inclusion=InclusionLevel.INCLUDED)
            _SheetPage(made.title, file, config).template_name = made.template
            ours.append(file)
        for name, content in self.assets.items():
            ours.append(File.generated(config, name, content=content, inclusion=InclusionLevel.INCLUDED))
        return ours

    def on_env(self, env: Environment, /, *, config: MkDocsConfig, files: Files) -> Environment:
        return self.env

    def on_page_context(self, context: Any, /, *, page: MkDocsPage, config: MkDocsConfig, nav: Navigation) -> Any:
        made = self.pages[page.file.src_uri]
        return dict(made.context)


class _Settings(MkDocsConfig):  # type: ignore[no-untyped-call]
    """Settings that take a theme and plugins as they are: nothing is looked up among all installed packages.

    Nor is Markdown made ready, with its extensions, for pages that hold none.
    """

    theme = options.Type(Theme)
    plugins = options.Type(PluginCollection)
    hooks = options.Type(dict, default={})  # type: ignore[assignment]
    markdown_extensions = options.Type(list, default=[])


def _settings(plugin: _Sheets, empty: Path, into: Path) -> MkDocsConfig:
    theme, plugins = Theme(), PluginCollection()
    theme.dirs, theme.static_templates = [], set()
    plugins["sitegen/sheets"] = plugin
    config = _Settings()
    config.load_dict({"site_name": "proposal", "docs_dir": str(empty), "site_dir": str(into), "plugins": plugins,
                      "theme": theme, "use_directory_urls": False})
    errors, _ = config.validate()
    if errors:
        raise BuildError(f"MkDocs refuses our own settings: {errors[0]}")
    return config


def write_site(pages: Sequence[Page], assets: Mapping[str, str | bytes], env: Environment, empty: Path,
               into: Path) -> None:
    """Write every page and asset under `into`; raises BuildError, with the page, when one cannot be made.

    `empty` is an empty folder that stands in for the sources that MkDocs expects.
    """
    logging.getLogger("mkdocs").setLevel(logging.CRITICAL)
    config = _settings(_Sheets(pages, assets, env), empty, into)
    try:
        mkdocs_build(config)
    except TemplateError as error:
        raise BuildError(f"a template cannot be filled: {error}") from error
    except MkDocsException as error:
        raise BuildError(f"MkDocs could not build the site: {error}") from error
    written = {path.relative_to(into).as_posix() for path in into.rglob("*") if path.is_file()}
    wanted = {*(made.file for made in pages), *assets}
    if written != wanted:
        raise BuildError(f"the site should hold {sorted(wanted)}; it holds {sorted(written)}")


def serve(rebuild: Callable[[], None], root: Path, watched: Iterable[Path], port: int) -> None:
    """Serve `root` on this machine alone and call `rebuild` whenever something under `watched` changes."""
    from mkdocs.livereload import LiveReloadServer
    server = LiveReloadServer(builder=rebuild, host="127.0.0.1", port=port, root=str(root))
    for path in watched:
        server.watch(str(path))
    try:
        server.serve()  # type: ignore[no-untyped-call]
    except KeyboardInterrupt:
        pass
    finally:
        server.shutdown()
