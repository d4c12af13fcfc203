# What bash completes behind glassbrief. It needs nothing but bash and the program, which reads the
# command line and quotes what it offers; nothing of the line is run.
_glassbrief() {
	local program=glassbrief kind="" reply
	[[ $1 == */* ]] && program=${1/#"~/"/"$HOME/"}
	COMPREPLY=()
	{
		IFS= read -r kind
		while IFS= read -r reply; do COMPREPLY+=("$reply"); done
	} < <("$program" __bash "${COMP_LINE:0:COMP_POINT}" "$COMP_WORDBREAKS" 2>/dev/null </dev/null)
	case $kind in # older versions of bash know no compopt, or no order of its own
	words)
		compopt +o default 2>/dev/null
		compopt -o nosort 2>/dev/null
		;;
	files) compopt -o filenames 2>/dev/null ;;
	esac
	return 0
}
complete -o default -F _glassbrief glassbrief
