#compdef glassbrief
# What zsh completes behind glassbrief. Words are freed of their quotes, and nothing of them is run.
_glassbrief() {
	local program=glassbrief line directive
	local -a lines names shown
	[[ ${(Q)words[1]} == */* ]] && program=${${(Q)words[1]}/#\~\//$HOME/}
	lines=("${(@f)$("$program" __complete "${(@Q)words[2,CURRENT]}" 2>/dev/null </dev/null)}")
	directive=${lines[-1]#:}
	[[ $directive == <-> ]] || return 1
	lines[-1]=()
	compset -P '--[a-z-]##='
	if (( directive & 8 )); then
		_files -g "*.(${(j:|:)lines})(-.)"
	elif (( directive & 16 )); then
		_files -/
	elif (( ! (directive & 4) && $#lines == 0 )); then
		_files
	else
		for line in $lines; do
			names+=("${line%%$'\t'*}")
			shown+=("${line/$'\t'/  -- }")
		done
		if [[ $lines == *$'\t'* ]]; then
			compadd -l -V glassbrief -d shown -a names
		else
			compadd -V glassbrief -a names
		fi
	fi
}
if [[ $funcstack[1] == _glassbrief ]]; then
	_glassbrief "$@" # it was loaded for the first question
else
	compdef _glassbrief glassbrief
fi
