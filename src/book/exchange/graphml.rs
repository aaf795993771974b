//! The graph as `GraphML`, for programs that draw or analyse graphs.

use std::borrow::Cow;
use std::io;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesEnd, BytesStart, BytesText, Event};

use super::filling::origin_word;
use super::graph::Picture;
use crate::book::bond::Bond;

/// # Source
/// `GraphML` 1.0: the namespace and the elements as in the `GraphML` Primer (graphml.graphdrawing.org), *from memory*.
const NAMESPACE: &str = "http://graphml.graphdrawing.org/xmlns";

/// What nodes and edges say, each with its key, whose it is and its type.
const KEYS: [(&str, &str, &str, &str); 8] = [
    ("name", "node", "name", "string"),
    ("kind", "node", "kind", "string"),
    ("loudness", "node", "loudness", "double"),
    ("affinity", "edge", "affinity", "double"),
    ("clash", "edge", "clash", "boolean"),
    ("note", "edge", "note", "string"),
    ("by", "edge", "by", "string"),
    ("origin", "edge", "origin", "string"),
];

/// The graph as the text of a `GraphML` file.
///
/// A clash has no affinity. Two letters that XML cannot hold at all (U+FFFE, U+FFFF) become U+FFFD.
///
/// # Errors
/// None that writing into memory has.
pub(super) fn graphml_text(picture: &Picture<'_>) -> io::Result<Vec<u8>> {
    let mut writer = Writer::new_with_indent(Vec::new(), b' ', 1);
    writer.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    writer.write_event(Event::Start(BytesStart::new("graphml").with_attributes([("xmlns", NAMESPACE)])))?;
    for (id, whose, name, kind) in KEYS {
        let key = [("id", id), ("for", whose), ("attr.name", name), ("attr.type", kind)];
        writer.write_event(Event::Empty(BytesStart::new("key").with_attributes(key)))?;
    }
    let graph = [("id", "medlar"), ("edgedefault", "undirected")];
    writer.write_event(Event::Start(BytesStart::new("graph").with_attributes(graph)))?;
    for node in &picture.nodes {
        writer
            .write_event(Event::Start(BytesStart::new("node").with_attributes([("id", node.id.as_str())])))?;
        data(&mut writer, "name", &node.name)?;
        data(&mut writer, "kind", node.kind.name())?;
        data(&mut writer, "loudness", &node.loudness.value().to_string())?;
        writer.write_event(Event::End(BytesEnd::new("node")))?;
    }
    for bond in picture.bonds {
        let ends = [("source", bond.pair.0.as_str()), ("target", bond.pair.1.as_str())];
        writer.write_event(Event::Start(BytesStart::new("edge").with_attributes(ends)))?;
        match bond.bond {
            Bond::Affinity(affinity) => data(&mut writer, "affinity", &affinity.value().to_string())?,
            Bond::Clash => {}
        }
        data(&mut writer, "clash", if bond.bond == Bond::Clash { "true" } else { "false" })?;
        for (key, text) in [("note", &bond.note), ("by", &bond.by)] {
            if let Some(text) = text {
                data(&mut writer, key, text)?;
            }
        }
        data(&mut writer, "origin", &origin_word(&bond.origin))?;
        writer.write_event(Event::End(BytesEnd::new("edge")))?;
    }
    writer.write_event(Event::End(BytesEnd::new("graph")))?;
    writer.write_event(Event::End(BytesEnd::new("graphml")))?;
    let mut text = writer.into_inner();
    text.push(b'\n');
    Ok(text)
}

fn data(writer: &mut Writer<Vec<u8>>, key: &str, text: &str) -> io::Result<()> {
    writer.write_event(Event::Start(BytesStart::new("data").with_attributes([("key", key)])))?;
    writer.write_event(Event::Text(BytesText::new(&holdable(text))))?;
    writer.write_event(Event::End(BytesEnd::new("data")))
}

/// The text without the letters that XML 1.0 does not allow (section 2.2, Char); control characters are none of a record's.
fn holdable(text: &str) -> Cow<'_, str> {
    let bad =
        |letter: char| matches!(letter, '\u{fffe}' | '\u{ffff}') || (letter.is_control() && letter != '\t');
    if text.contains(bad) { Cow::Owned(text.replace(bad, "\u{fffd}")) } else { Cow::Borrowed(text) }
}
