//! The server's own few pages: plain, without scripts.

use axum::response::Html;

/// How they look, served at `/pages.css`.
pub(crate) const CSS: &str = include_str!("pages.css");

/// A page with a title and its text as HTML.
pub(crate) fn page(title: &str, text: &str) -> Html<String> {
    Html(format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" \
         content=\"width=device-width, initial-scale=1\">\n<title>{title} · Nearside</title>\n<link \
         rel=\"stylesheet\" href=\"/pages.css\">\n</head>\n<body>\n<main>\n<h1>{title}</h1>\n{text}\n</main>\n\
         </body>\n</html>\n"
    ))
}

/// Text as it stands in HTML.
pub(crate) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            other => escaped.push(other),
        }
    }
    escaped
}
