"""Plugins: found through entry points, registered, checked, and asked one at a time."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from importlib.metadata import EntryPoint, entry_points
from types import ModuleType
from typing import Any

import pluggy

from diagtree.errors import in_words, near_names
from diagtree.library import hookspecs
from diagtree.library.fault import did_you_mean
from diagtree.library.library import Problem

GROUP = "diagtree"
"""The entry-point group in which plugins are named."""

SECONDS_TO_IMPORT = 20.0
"""A plugin that has not come in after this long hangs; the others go on without it."""

_KNOWN = tuple(name for name in vars(hookspecs) if name.startswith("diagtree_"))


@dataclass
class Plugins:
    """The plugins that work, and what is wrong with the others.

    Hooks are asked through `ask`, which calls one plugin at a time, so that one plugin's fault stays its own.
    """

    manager: pluggy.PluginManager
    problems: list[Problem] = field(default_factory=list)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the plugins that work, in the order in which they came in."""
        return tuple(name for name, _ in self.manager.list_name_plugin())

    def ask(self, hook: str, wanted: type, wants: str) -> Iterator[tuple[str, Any]]:
        """Ask every plugin one hook, and yield what each offers with the plugin's name.

        Parameters
        ----------
        hook
            The hook's name.
        wanted
            What each thing that is offered must be.
        wants
            The same in words, for the fault: ``readings (diagtree.model.reading.Reading)``.
        """
        everyone = self.manager.get_plugins()
        for name, plugin in self.manager.list_name_plugin():
            caller = self.manager.subset_hook_caller(hook, [one for one in everyone if one is not plugin])
            if not caller.get_hookimpls():
                continue
            try:
                answers = [answer for answer in caller() if answer is not None]
                odd = [one for one in answers if isinstance(one, str) or not isinstance(one, Iterable)]
                offered = [thing for answer in answers if answer not in odd for thing in answer]
            except Exception as error:
                self._fault(
                    name, f"hook '{hook}' failed: {in_words(error)}.", "Mend the plugin, or block it."
                )
                continue
            odd += [thing for thing in offered if not isinstance(thing, wanted)]
            yield from ((name, thing) for thing in offered if isinstance(thing, wanted))
            for kind in sorted({type(thing).__name__ for thing in odd}):
                self._fault(
                    name, f"hook '{hook}' must return a list of {wants}, not {kind}.", "Mend the plugin."
                )

    def _fault(self, plugin: str, text: str, mend: str) -> None:
        self.problems.append(Problem(f"plugin '{plugin}'", f"{text} {mend}"))


def load_plugins(
    blocked: Iterable[str] = (),
    also: Mapping[str, object] | None = None,
    trace: Callable[[str], None] | None = None,
    seconds: float = SECONDS_TO_IMPORT,
    points: Iterable[EntryPoint] | None = None,
) -> Plugins:
    """Find, import and register all plugins that are installed and not blocked.

    Parameters
    ----------
    blocked
        Names of entry points that stay outside.
    also
        More plugins by name, already imported: for tests and for programs that bring their own.
    trace
        Is given a line for each hook call and its result.
    seconds
        How long one plugin may take to be imported.
    points
        The entry points to take; those of all installed distributions if None.

    Returns
    -------
    Plugins
        Those that work; the others are named in its problems.
    """
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    plugins = Plugins(manager)
    blocked = tuple(blocked)
    for name in blocked:
        manager.set_blocked(name)
    found = {point.name: point for point in (entry_points(group=GROUP) if points is None else points)}
    for name in sorted(found):
        if not manager.is_blocked(name):
            module = _imported(plugins, found[name], seconds)
            if module is not None:
                _register(plugins, name, module)
    for name, plugin in (also or {}).items():
        if not manager.is_blocked(name):
            _register(plugins, name, plugin)
    manager.check_pending()  # each plugin was held to it as it came in: nothing is left to complain of
    for name in blocked:
        if name not in found and name not in (also or {}):
            known = [*found, *(also or {})]
            plugins._fault(name, "is blocked, and there is no such plugin.", did_you_mean(name, known))
    if trace is not None:
        _trace(manager, trace)
    return plugins


def _imported(plugins: Plugins, point: EntryPoint, seconds: float) -> object | None:
    """Import a plugin in a thread of its own: an import that hangs must not hang the program."""
    came: list[object] = []
    failed: list[BaseException] = []

    def bring_in() -> None:
        try:
            came.append(point.load())
        except BaseException as error:  # a plugin may raise anything, even SystemExit
            failed.append(error)

    thread = threading.Thread(target=bring_in, daemon=True, name=f"import of plugin {point.name}")
    thread.start()
    thread.join(seconds)
    if came:
        return came[0]
    if failed:
        plugins._fault(point.name, f"cannot be imported: {in_words(failed[0])}.", "Mend it, or block it.")
    else:
        plugins._fault(point.name, f"hangs: not imported after {seconds:g} s.", "Mend it, or block it.")
    return None


def _register(plugins: Plugins, name: str, plugin: object) -> None:
    manager = plugins.manager
    fault = ""
    try:
        manager.register(plugin, name)
    except pluggy.PluginValidationError as error:
        fault = _misfit(error, plugin)
    except ValueError:
        fault = "is registered already under this or another name"
    else:
        fault = _misspelt(manager, plugin)
    if fault:
        if manager.get_plugin(name) is plugin:
            manager.unregister(plugin, name)
        plugins._fault(name, f"{fault}.", "Mend the plugin, or block it.")


def _misfit(error: pluggy.PluginValidationError, plugin: object) -> str:
    """Say in plain words which argument of which hook does not fit."""
    for name in _KNOWN:
        if f"'{name}'" in str(error):
            function = getattr(plugin, name)
            taken = function.__code__.co_varnames[: function.__code__.co_argcount]
            names = ", ".join(f"'{argument}'" for argument in taken)
            return (
                f"hook '{name}' does not fit: it takes {names}, and the hook gives no argument of that name"
            )
    return " ".join(str(error).split())


def _misspelt(manager: pluggy.PluginManager, plugin: object) -> str:
    """Name a hook that nobody will call, because its name or its marker is missing."""
    for caller in manager.get_hookcallers(plugin) or ():
        if not caller.has_spec() and any(
            impl.plugin is plugin and not impl.optionalhook for impl in caller.get_hookimpls()
        ):
            near = near_names(caller.name, _KNOWN, most=1)
            meant = f": did you mean '{near[0]}'" if near else f"; the hooks are {', '.join(_KNOWN)}"
            return f"there is no hook '{caller.name}'{meant}"
    marked = {caller.name for caller in manager.get_hookcallers(plugin) or ()}
    for name in _KNOWN:
        if isinstance(plugin, ModuleType) and callable(getattr(plugin, name, None)) and name not in marked:
            return f"'{name}' is never called: mark it with @hookimpl from diagtree.library.hookspecs"
    return ""


def _trace(manager: pluggy.PluginManager, say: Callable[[str], None]) -> None:
    def before(
        hook: str, implementations: Iterable[pluggy.HookImpl], arguments: Mapping[str, object]
    ) -> None:
        given = ", ".join(f"{key}={value!r}" for key, value in arguments.items())
        say(f"{hook}({given}) -> {', '.join(one.plugin_name for one in implementations)}")

    def after(
        outcome: pluggy.Result[Any],
        hook: str,
        implementations: Iterable[pluggy.HookImpl],
        arguments: Mapping[str, object],
    ) -> None:
        del implementations, arguments
        said = in_words(outcome.exception) if outcome.exception else repr(outcome.get_result())
        say(f"{hook} <- {said}")

    manager.add_hookcall_monitoring(before, after)
