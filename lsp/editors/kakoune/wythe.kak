# Wythe for Kakoune: put it into ~/.config/kak/autoload. With kak-lsp and `lsp-enable` the server starts by itself.

hook global BufCreate .*[.]wythe %{
    set-option buffer filetype wythe
}

hook global WinSetOption filetype=wythe %<
    require-module wythe
    try %[ set-option buffer comment_line '//' ]
    set-option buffer indentwidth 4
    set-option buffer tabstop 4
    hook -group wythe-indent window InsertChar '\n' wythe-indent-on-new-line
    hook -group wythe-indent window InsertChar '[)}]' wythe-indent-on-closing
    hook -once -always window WinSetOption filetype=.* %{ remove-hooks window wythe-.+ }
>

hook -group wythe-highlight global WinSetOption filetype=wythe %{
    add-highlighter window/wythe ref wythe
    hook -once -always window WinSetOption filetype=.* %{ remove-highlighter window/wythe }
}

hook -group lsp-filetype-wythe global BufSetOption filetype=wythe %{
    # Without kak-lsp there is no such option, and nothing to start.
    try %{
        set-option buffer lsp_servers %{
            [wythe-lsp]
            command = "wythe-lsp"
            root_globs = ["*.wythe"]
            settings_section = "wythe"
            [wythe-lsp.settings.wythe]
            units = "metric"
        }
    }
}

provide-module wythe %§
    # Colours that need no list of keywords: what begins a line or follows a comma is one.
    add-highlighter shared/wythe regions
    add-highlighter shared/wythe/code default-region group
    add-highlighter shared/wythe/documentation region '///(?!/)' $ fill documentation
    add-highlighter shared/wythe/comment region '//' $ fill comment
    add-highlighter shared/wythe/text region '"' '(?<!\\)(\\\\)*"|$' fill string
    add-highlighter shared/wythe/code/ regex '^([A-Za-z]+)\b(?:[ \t]+(\w+))?' 1:keyword 2:type
    add-highlighter shared/wythe/code/ regex '(?:^[ \t]+|,[ \t]*)([A-Za-z_]\w*)' 1:attribute
    add-highlighter shared/wythe/code/ regex '\b(?:at|to|from|on|into|with|by|until|along|between|under|over|below|above|behind|for|because|like|every|and|x)\b' 0:operator
    add-highlighter shared/wythe/code/ regex '-?\b\d+(?:-\d+/\d+|[./:]\d+)?(?:%|[A-Za-z]+[23]?(?:/\([^)\n]*\))?)?' 0:value

    define-command -hidden wythe-indent-on-new-line %<
        evaluate-commands -draft -itersel %<
            # as the line above; one step more behind an open brace or bracket
            try %< execute-keys -draft <semicolon> K <a-&> >
            try %< execute-keys -draft k x <a-k> [{(]\h*$ <ret> j <a-gt> >
        >
    >
    define-command -hidden wythe-indent-on-closing %<
        evaluate-commands -draft -itersel %<
            try %< execute-keys -draft <a-h> <a-k> ^\h+[)}]$ <ret> m <a-S> 1<a-&> >
        >
    >
§
