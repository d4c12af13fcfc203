-- Run with: nvim --headless -u NONE -n --cmd "set rtp^=lang/editors/vim" --cmd "filetype
-- plugin on" --cmd "syntax on" FILE -c "luafile testdata/editors/vim.lua". Prints the file
-- type, and for each line the names of the syntax items at each byte, outermost first.
local lines = {}
for row = 1, vim.fn.line("$") do
  local columns = {}
  for column = 1, #vim.fn.getline(row) do
    local names = {}
    for _, id in ipairs(vim.fn.synstack(row, column)) do
      table.insert(names, vim.fn.synIDattr(id, "name"))
    end
    table.insert(columns, table.concat(names, " "))
  end
  table.insert(lines, #columns > 0 and columns or vim.empty_dict())
end
io.stdout:write(vim.fn.json_encode({ filetype = vim.bo.filetype, lines = lines }))
vim.cmd("qall!")
