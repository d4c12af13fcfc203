# What fish completes behind glassbrief. Nothing of the command line is run.
function __glassbrief_offers
    set -l words (commandline -opc)
    set -l typed (commandline -ct)
    set -l program glassbrief
    if string match -q '*/*' -- $words[1]
        set program (string replace -r '^~/' "$HOME/" -- $words[1])
    end
    set -l lines ($program __complete $words[2..-1] "$typed" </dev/null 2>/dev/null)
    set -l directive (string match -r '^:(\d+)$' -- $lines[-1])[2]
    set -q directive[1]; or return
    set -e lines[-1]
    set -l flag (string match -r -- '^--[a-z-]+=' $typed)
    set -q flag[1]; or set flag ''
    set -l value (string replace -- "$flag" '' "$typed")
    set -l ending '.'
    if test (math "bitand($directive, 8)") -ne 0
        set ending '\.('(string join '|' $lines)')$'
    else if test (math "bitand($directive, 16)") -ne 0
        set ending '/$'
    else if test (math "bitand($directive, 4)") -ne 0; or set -q lines[1]
        # fish takes a ~ at the beginning of an offer for the home folder.
        string match -qr -- '^[-"\']' "$typed"; or set lines (string match -rv -- '^~' $lines)
        set -q lines[1]; and printf '%s\n' $flag$lines
        return
    end
    # fish offers files behind a command that it does not know.
    for path in (complete -C "__glassbrief_files $value" | string replace -r '\t.*' '')
        if string match -qr -- '/$' $path; or string match -qr -- $ending $path
            printf '%s\n' $flag$path
        end
    end
end
complete -c glassbrief -f -k -a '(__glassbrief_offers)'
