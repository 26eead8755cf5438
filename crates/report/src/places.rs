//! Places in the report and the ways to them, for the templates.
//!
//! The typesetter's own `link` asks where its target stands, and whatever holds a link is laid out again once that is known:
//! with links in every table, the whole report two or three times. Here a place is known by its name from the start, so
//! that nothing asks.

use std::sync::LazyLock;

use typst::comemo::Tracked;
use typst::diag::SourceResult;
use typst::engine::Engine;
use typst::foundations::{
    Args, CastInfo, Content, Context, Func, IntoValue as _, NativeFuncData, NativeFuncPtr, Scope,
    Str, Value,
};
use typst::introspection::Location;
use typst::model::Destination;

/// Gives the templates these functions.
pub(crate) fn define(scope: &mut Scope) {
    scope.define("placed", Func::from(&PLACED));
    scope.define("way-to", Func::from(&WAY_TO));
    scope.define("where-is", Func::from(&WHERE_IS));
}

static PLACED: NativeFuncData = function(
    NativeFuncPtr(&placed),
    "placed",
    "Placed",
    "`placed(name, element)`: the element, as the place with this name. A name is given once in a document.",
);

static WAY_TO: NativeFuncData = function(
    NativeFuncPtr(&way_to),
    "way-to",
    "Way to",
    "`way-to(name, words, told)`: the words as a link to the place; `told` is what a screen reader says of it.",
);

static WHERE_IS: NativeFuncData = function(
    NativeFuncPtr(&where_is),
    "where-is",
    "Where is",
    "`where-is(name)`: the location of the place; to ask it for its page costs what this module spares the links.",
);

const fn function(
    function: NativeFuncPtr,
    name: &'static str,
    title: &'static str,
    docs: &'static str,
) -> NativeFuncData {
    NativeFuncData {
        function,
        name,
        title,
        docs,
        def_site: None,
        keywords: &[],
        contextual: false,
        scope: LazyLock::new(&Scope::new),
        params: LazyLock::new(&Vec::new),
        returns: LazyLock::new(&|| CastInfo::Any),
    }
}

fn placed(_: &mut Engine<'_>, _: Tracked<'_, Context<'_>>, args: &mut Args) -> SourceResult<Value> {
    let location = location(&args.expect::<Str>("name")?);
    let element = args.expect::<Content>("element")?;
    Ok(element.located(location).into_value())
}

fn way_to(_: &mut Engine<'_>, _: Tracked<'_, Context<'_>>, args: &mut Args) -> SourceResult<Value> {
    let location = location(&args.expect::<Str>("name")?);
    let words = args.expect::<Content>("words")?;
    let told = args.expect::<Str>("told")?;
    Ok(words.linked(Destination::Location(location), Some(told.into())).into_value())
}

fn where_is(
    _: &mut Engine<'_>,
    _: Tracked<'_, Context<'_>>,
    args: &mut Args,
) -> SourceResult<Value> {
    Ok(location(&args.expect::<Str>("name")?).into_value())
}

fn location(name: &Str) -> Location {
    Location::new(typst::utils::hash128(name.as_str()))
}
