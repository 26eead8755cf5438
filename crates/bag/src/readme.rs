//! The page that greets whoever opens a bag's `data/` in a file browser.

/// The content of `data/README.txt`. `name` says which job and release it is.
#[must_use]
pub fn readme(name: &str, released: bool) -> String {
    let standing = if released {
        "This is a released job. The folder `signatures` beside `data` holds who signed it: JSON Web\n\
         Signatures (RFC 7515, RFC 8037) over the hash of tagmanifest-sha256.txt, through which they\n\
         cover every other file. A file `time-….tsr` is the answer of a time stamp service (RFC 3161): that\n\
         the hash, and so everything else, was there at that time.\n"
    } else {
        "This is a working copy: nobody has released or signed it, and its report is no finished report.\n"
    };
    format!(
        "{name}\n\n{standing}\n\
         What lies here\n\
         \x20 report.pdf          the report for the client (PDF/A-3a, PDF/UA-1)\n\
         \x20 page/index.html     the same for a browser: the client's page. It shows the photos of photos/captioned/,\n\
         \x20                     so it is whole only inside this folder\n\
         \x20 report.json         the same as data; schema/report.schema.json\n\
         \x20 assessment.json     verdicts, findings, uses, what is missing; schema/assessment.schema.json\n\
         \x20 record.json         everything entered, with who entered it and when; schema/record.schema.json\n\
         \x20 record.automerge    the same as a document that two devices can go on with (Automerge)\n\
         \x20 plan.txt            the plan: points, limits, sources, as they stood when the job was made\n\
         \x20 state.json          what was frozen: hashes of record, plan, report; open matters accepted;\n\
         \x20                     schema/state.schema.json\n\
         \x20 tables/             readings, values and findings for a spreadsheet (CSV)\n\
         \x20 photos/original/    the photos as the camera wrote them, named by their SHA-256\n\
         \x20 photos/captioned/   copies with caption, time and marks inside (XMP, IPTC)\n\
         \x20 photos/display/, photos/thumbnail/   the copies that the report is made from\n\
         \x20 memos/              voice memos as they were recorded, named by their SHA-256; record.json says\n\
         \x20                     at which point each was spoken. They are working notes, no part of the report.\n\
         \x20 What was blurred or cut off in a photo is so in report.pdf, page/ and photos/captioned/, nowhere else.\n\n\
         How to check it\n\
         \x20 Nearside:           nearside verify FOLDER\n\
         \x20 any BagIt program:  this is a bag by BagIt 1.0 (RFC 8493)\n\
         \x20 by hand:            sha256sum --check manifest-sha256.txt tagmanifest-sha256.txt\n"
    )
}
